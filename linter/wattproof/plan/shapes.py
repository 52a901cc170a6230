"""Components that are written in a list, or without a name: each put under one.

So what is wrong with them besides, or hangs on them, is told in the same run.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final

from wattproof.plan.fields import name_meant
from wattproof.plan.hints.other_words import RENAMED, plain_key
from wattproof.plan.hints.shown import FORMS
from wattproof.plan.resemblance import spelt_alike
from wattproof.quantities import UNKNOWN
from wattproof.source import Block, Items, Missing, Node, Text

_CALLED: Final = ("name", "id", "label")
"""Keys by which an entry of a list tells its name."""
_ARROW: Final = re.compile(r" ?(?:-+>|=+>|→|⇒|>{1,2}| to ) ?")
_ENDINGS: Final = {
    **dict.fromkeys(("relay", "solenoid", "contactor", "acr", "vsr", "switch"), "switches"),
    **dict.fromkeys(("disconnect", "disconnector", "isolator"), "switches"),
    "fuse": "fuses",
    **dict.fromkeys(("breaker", "mcb", "mccb"), "breakers"),
    **dict.fromkeys(("battery", "bank", "batteries"), "batteries"),
    **dict.fromkeys(("inverter", "invertor"), "inverters"),
    **dict.fromkeys(("busbar", "bar"), "busbars"),
    **dict.fromkeys(("controller", "mppt", "pwm"), "controllers"),
    **dict.fromkeys(("load", "light", "lights", "fridge", "pump", "windlass", "fan"), "loads"),
    **dict.fromkeys(("array", "string"), "strings"),
}
"""The family of what people write at the margin by its own name, by the last word of it."""
_OTHERS: Final = re.compile("(ac|grid|hybrid|micro|diode)_")


def is_nameless(node: Block, model: str, keys: Collection[str]) -> bool:
    """Whether a block in the place of named components holds the keys of one.

    model: its class. keys: those that it has.
    """
    if not node or any(isinstance(held, Block) and k not in keys for k, held in node.items()):
        return False
    words, told = RENAMED.get(model, {}), list(keys)
    exact = [key for key in node if key in keys]
    own = [
        key
        for key, held in node.items()
        if key in keys or (not _says_nothing(held) and _is_word_for(key, told, words))
    ]
    if len(node) == 1:
        return bool(exact) and not _says_nothing(node[exact[0]])
    return 2 * len(own) > len(node)


def _is_word_for(key: str, keys: list[str], words: Collection[str]) -> bool:
    return spelt_alike(key, keys) is not None or plain_key(key) in words


def _says_nothing(held: Node) -> bool:
    """True for what may be a component that is known by its name alone."""
    return isinstance(held, Missing) or held == UNKNOWN


def under_a_name(name: Text, node: Block) -> Block:
    """The family that holds one component under a name."""
    family = Block({name: node})
    family.place = node.place
    return family


def name_for(written: Text, family: str) -> Text:
    """What one component of a family may be called that was written under a word for the family."""
    plain = name_meant(written.replace("_", "-"))
    if plain and plain != family.replace("_", "-"):
        return Text.at(plain, written.place)
    shown = re.match(r"{([a-z0-9-]+): ", FORMS.get(family, ""))
    return Text.at(shown[1] if shown else "one", written.place)


def family_by_ending(written: str) -> str:
    """The family of a component that stands by its own name where families do; empty if unsure."""
    plain = plain_key(written)
    return "" if _OTHERS.match(plain) else _ENDINGS.get(plain.rpartition("_")[2], "")


def out_of_a_list(node: Items, singular: str, keys: Collection[str]) -> Block | None:
    """The entries of a list under names, their own where they tell any; None for another list.

    singular: what one of them is. keys: those that it has.
    """
    if not node or not all(isinstance(entry, Block) and entry for entry in node):
        return None
    family = Block()
    family.place = node.place
    for number, entry in enumerate(node, 1):
        assert isinstance(entry, Block)
        [key, *more] = entry
        held = entry[key]
        if not more and (isinstance(held, Block) or key not in (*keys, *_CALLED)):
            family.setdefault(key, held)
            continue
        name = _name_of(entry) or f"{singular.replace(' ', '-')}-{number}"
        name = name if name not in family else f"{name}-{number}"
        rest = Block({k: v for k, v in entry.items() if k not in ("name", "id")})
        rest.place = entry.place
        family[Text.at(name, key.place)] = rest
    return family


def name_told(entry: Block) -> str:
    """The name that an entry of a list tells under a key, as it may stand in a plan."""
    told = next((entry[Text(key)] for key in _CALLED if key in entry), "")
    return name_meant(told) if isinstance(told, Text) else ""


def _name_of(entry: Block) -> str:
    ends = [entry.get(Text(key)) for key in ("from", "to")]
    if not name_told(entry) and all(isinstance(end, Text) for end in ends):
        return name_meant("-to-".join(str(end).partition(".")[0] for end in ends))
    return name_told(entry)


def chain_meant(node: Items) -> str:
    """What to write of wires that are told as chains of parts; empty for another list."""
    first = node[0] if node else None
    parts = _ARROW.split(first) if isinstance(first, Text) else []
    names = [name_meant(part) for part in parts]
    if len(names) < 2 or not all(names):
        return ""
    return (
        "write each piece between two parts as a wire under a name, and the fuses and switches in "
        "it under `inline`: `home-run: {from: roof, to: tracker.pv, inline: [pv-off]}`, and the "
        "next from `tracker.battery`"
    )


def ends_of(text: str) -> str:
    """The ends of a wire that is told with an arrow, under their keys; empty for another text."""
    ends = _ARROW.split(text)
    if len(ends) != 2 or not all(re.fullmatch(r"[a-z0-9-]+(\.[a-z0-9.-]+)?", end) for end in ends):
        return ""
    return f"{{from: {ends[0]}, to: {ends[1]}}}"


def glued_pairs(text: str) -> tuple[str, ...]:
    """Keys and values of a text with `=`, or with colons that lack their space; none of another."""
    parts = re.split(r" (?=[a-z_]{2,}(?::\S| ?= ?\S))", text)
    found = [re.fullmatch(r"([a-z_]{2,})(?::| ?= ?)([^\s:=][^:=]*)", part) for part in parts]
    return tuple(f"{each[1]}: {each[2]}" for each in found if each) if all(found) else ()
