"""Wires, what sits in them and where they end, in the words of people."""

from __future__ import annotations

import re
from typing import Final

from wattproof.plan.hints.elsewhere import ONE_CASE, SHUNT, WARMS
from wattproof.quantities import is_quantity
from wattproof.source import Block, Items, Node, Text

_MAINS: Final = re.compile(
    r"(ac|mains|grid|shore|gen|generator|outlets?|sockets?|(110|115|120|220|230|240)v?)"
    r"[-_ ]?(in|out|input|output|load|side)?[0-9]?"
)
"""How people call the terminals of an inverter or charger that are no part of a plan."""


def solar_input_meant(word: str) -> str:
    """What to do about a terminal of an inverter that is none; empty where nobody can tell."""
    is_solar = re.match("(pv|solar|mppt|panel|sun|array|string)", word.lower()) is not None
    return ONE_CASE if is_solar else ""


def mains_meant(word: str) -> str:
    """What to do about a terminal of mains voltage; empty for any other."""
    if not _MAINS.fullmatch(word.lower()):
        return ""
    return "its mains side is outside the plan: leave this wire out"


def device_meant(name: str) -> str:
    """What to write of a device in a wire that is declared nowhere; empty where nobody can tell."""
    return SHUNT if "shunt" in name else ""


def key_of_device_meant(key: str, held: Node) -> str:
    """What to do with a key that is written at a device in a wire, where it cannot stand."""
    word = held.lower() if isinstance(held, Text) else ""
    if key in ("pole", "poles") or word in _POLE_WORDS:
        return _ONE_POLE
    if key in _OF_DEVICES:
        return f"write `{key}` once, where it is declared: {_DEVICE_FAMILIES}"
    return "write `{NAME: {from_end: …, distance: …}}`, `from_end` being `from` or `to`"


_POLE_WORDS: Final = ("positive", "negative", "both", "plus", "minus", "+", "-", "pos", "neg")
_DEVICE_FAMILIES: Final = "under `fuses:`, `breakers:` or `switches:`"
_OF_DEVICES: Final = (
    *("rating", "voltage", "interrupt", "style", "dc", "polarised", "load_break", "place"),
    *("max_conductor", "ignition_protected", "opens_below", "closes_above", "opened_by"),
)
_ONE_POLE: Final = (
    "draw each pole for itself, one wire with `pole: positive` and one with `pole: negative`, and "
    "name it in the one in which it stands; one switch that opens both says `poles: 2` where it "
    "is declared"
)


def battery_meant(key: str) -> str:
    """What names a battery under a key, where no such battery is declared."""
    if key == "warms":
        return WARMS
    return (
        "`opened_by` names the battery whose management opens it; one that a hand opens, by a "
        "button too, leaves it out"
    )


IN_WIRES: Final = {
    **dict.fromkeys(("fuse", "fuses"), ("fuses", "run-fuse")),
    **dict.fromkeys(("breaker", "breakers"), ("breakers", "run-breaker")),
    **dict.fromkeys(("switch", "switches", "device", "devices"), ("switches", "run-off")),
    "protection": ("fuses", "run-fuse"),
}
"""What a device in a wire is called by people, its family, and a name for one."""


def size_of_wire(plain: str, held: Node) -> str:
    """The size that a wire tells under a key of people's own; empty where there is none."""
    if not isinstance(held, Text) or plain not in ("size", "gauge", "awg", "area", "mm2"):
        return ""
    if plain in ("gauge", "awg", "mm2") and re.fullmatch("[0-9]{1,3}([.][0-9])?(/0)?", held):
        return f"{held} mm²" if plain == "mm2" else f"{held} AWG"
    return str(held) if is_quantity(held, "conductor size") else ""


def distance_of_wire(wire: Block) -> str:
    """A distance of a wire: its length, or where a device sits in it."""
    if Text("length") not in wire:
        return "write `length`"
    return (
        "where a device sits in a wire is told with it: write `inline: [{NAME: {from_end: …, "
        f"distance: {wire[Text('distance')]}}}}}]`, `from_end` being `from` or `to`"
    )


def device_of_wire(key: str, held: Node) -> str:
    """A device that a wire names by its kind, or by its rating alone."""
    if isinstance(held, Text) and held.lower() in ("yes", "true", "y", "on", "inline"):
        held = Text("… A")
    if isinstance(held, Text) and re.fullmatch("[a-z][a-z0-9-]*", held):
        return f"devices in a wire stand in its list: write `inline: [{held}]`"
    if isinstance(held, Items) and held:
        return "write `inline`"
    words = "devices in a wire stand in its list `inline:`, by their names"
    if isinstance(held, Block):
        held = held.get(Text("rating"), held.get(Text("amps"), Text("… A")))
    figure = re.match("([0-9.]+|…) ?[A-Za-z]*", held) if isinstance(held, Text) else None
    if figure is None:
        return words
    family, name = IN_WIRES[key]
    rating = figure[0] if re.search("[A-Za-z]", figure[0]) else f"{figure[0]} A"
    declared = f"`{family}: {{{name}: {{rating: {rating}}}}}`"
    return f"{words}: declare it, as in {declared}, and write `inline: [{name}]`"


def device_by_rating(written: Text) -> str:
    """How a device is written that a wire holds by its rating; empty for what is no rating."""
    told = re.fullmatch(r"([0-9.]+ ?[aA](?:mps?)?)(?:[ -]+([a-z-]+))?", written)
    kind = (told[2] or "fuse") if told else ""
    if told is None or kind.removesuffix("s") not in IN_WIRES:
        return ""
    return device_of_wire(kind.removesuffix("s"), Text.at(told[1], written.place))
