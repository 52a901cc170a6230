"""How many alike parts there are and how they are wired, under keys of people's own."""

from __future__ import annotations

from typing import Final

from wattproof.source import Block, Node, Text


def counted(model: str, key: str, block: Block) -> str:
    """Alike modules or batteries, counted under a key of the builder's own."""
    number = number_in(block[Text(key)])
    in_series = number_in(block.get(Text("series"), Text("")))
    if not number:
        return "write how they are wired as `arrangement:`, a short form of series and parallel"
    if key == "parallel":
        written = f"arrangement: {in_series or 1}s{number}p"
        if model == "Battery" and not in_series:
            written = f"arrangement: {number}p"
        beside = " in the place of `series`" if in_series and model == "String" else ""
        return f"write `{written}`{beside}"
    if sure := _counted_as_told(model, number, block):
        return f"write `{sure}`"
    one_after_another = f"series: {number}" if model == "String" else f"arrangement: {number}s"
    side_by_side = f"arrangement: {'1s' if model == 'String' else ''}{number}p"
    return (
        f"write `{one_after_another}` if they are wired one after another, `{side_by_side}` if "
        "side by side"
    )


COUNTS: Final = ("count", "quantity", "number", "qty", "how_many", "pieces", "amount")
"""How people count alike parts."""
HOW_WIRED: Final = (
    *("wired", "wiring", "connection", "connected", "joined", "configuration", "config", "layout"),
    *("in", "how", "connected_in", "wired_in"),
    *("in_series", "in_parallel", "series", "parallel", "arrangement"),
)


def _counted_as_told(model: str, number: str, block: Block) -> str:
    """The arrangement of counted parts, where a key beside tells how they are wired."""
    told = {
        word if str(held).lower() in ("true", "yes") else str(held).lower()
        for word in HOW_WIRED
        if isinstance(held := block.get(Text(word)), Text)
    }
    ways = {way for way in ("series", "parallel") for word in told if way in word}
    if len(ways) != 1 or len(told) != 1:
        return ""
    if "parallel" in ways:
        return f"arrangement: {'1s' if model == 'String' else ''}{number}p"
    return f"series: {number}" if model == "String" else f"arrangement: {number}s"


def how_wired(model: str, key: str, block: Block) -> str:
    """What to write of a key that says how many parts are wired that another key counts."""
    if model not in ("String", "Battery"):
        return ""
    way = str(block[Text(key)]).lower()
    for told, ways in (("series", "s"), ("arrangement", str(block.get(Text("arrangement"))))):
        if Text(told) in block and told != key and way in ("series", "parallel") and way[0] in ways:
            return f"`{told}: {block[Text(told)]}` tells that already: delete this"
    beside = next((word for word in COUNTS if number_in(block.get(Text(word), Text("")))), "")
    number = number_in(block.get(Text(beside), Text("")))
    sure = _counted_as_told(model, number, block) if number else ""
    return f"write `{sure}`, and delete `{beside}`" if sure else ""


def number_in(node: Node) -> str:
    return str(node) if isinstance(node, Text) and node.isdecimal() and node[0] != "0" else ""
