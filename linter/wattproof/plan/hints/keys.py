"""What a builder means by a key that is none: by the trade's other words, and by what they say.

A hint never shows a figure that could be taken for the one on a label; where it shows a number, it
is the one that the builder wrote.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final

from wattproof.plan.hints.counts import COUNTS, HOW_WIRED, counted, how_wired, number_in
from wattproof.plan.hints.elsewhere import (
    ELSEWHERE,
    LABELS,
    MAINS_SIDE,
    MODULES,
    TWO_LIMITS,
    anywhere,
)
from wattproof.plan.hints.in_wires import (
    IN_WIRES,
    device_of_wire,
    distance_of_wire,
    size_of_wire,
    solar_input_meant,
)
from wattproof.plan.hints.other_words import plain_key, renamed
from wattproof.plan.hints.shown import FORMS
from wattproof.plan.hints.values import sure_word
from wattproof.source import Block, Items, Node, Text

_WHICH_VOLTAGE: Final = (
    "write `nominal` for that of its battery, `charge_voltage` for what it charges at"
)


def _way_meant(key: str, held: Node) -> str:
    """A way of a panel as it is written, by what stands for it; empty of anything else."""
    if isinstance(held, Block):
        return f"{key}: {{…}}"
    return f"{key}: {{fuse: {held}}}" if re.fullmatch(r"[0-9.]+ ?A", str(held)) else ""


def meant(model: str, key: str, block: Block, fitting: Collection[str]) -> str:
    """What to write instead of a key that a model does not have; empty where nobody can tell.

    fitting: the keys of the model that may hold what stands there.
    """
    if model in ("String", "Battery") and key in ("parallel", *COUNTS):
        return counted(model, key, block)
    if key in HOW_WIRED and (wired := how_wired(model, key, block)):
        return wired
    if model == "String" and plain_key(key) in _AZIMUTHS and (facing := _facing(block[Text(key)])):
        return facing
    if model == "ModuleSheet" and key in ("folding", "flexible", "rigid") and _is_yes(block, key):
        return f"write `build: {key}`"
    if model in ("Inverter", "InverterCharger") and _of_the_mains(block[Text(key)]):
        return MAINS_SIDE
    if model == "Wire" and key in IN_WIRES:
        return device_of_wire(key, block[Text(key)])
    if model == "Battery" and key == "series":
        number = number_in(block[Text(key)])
        return f"write `arrangement: {number}s`" if number else "write it as `arrangement:`"
    if model in ("String", "Battery") and re.fullmatch(r"\d+ ?(in )?(series|parallel)", key):
        return "that is part of the arrangement: write both numbers in one word, as in `4s2p`"
    plain = plain_key(key)
    if model in ("String", "Battery") and re.fullmatch(r"\d+s(\d+p)?|\d+p", str(block[Text(key)])):
        return "write `arrangement`"
    if model == "Way" and plain in ("breaker", "circuit_breaker"):
        return _breaker_of_way(block[Text(key)])
    if plain == "location" and (setting := _setting(model, block[Text(key)])):
        return setting
    if model == "Plan" and _wraps_a_plan(block[Text(key)]):
        return "delete this line, and begin the lines below it at the margin, two spaces less"
    if model == "Wire" and plain == "distance":
        return distance_of_wire(block)
    size = size_of_wire(plain, block[Text(key)]) if model == "Wire" else ""
    if size and Text("cable") not in block:
        return f"write `cable: {size}`"
    of_output = model == "Controller" and plain in ("output_voltage", "voltage_out", "vout")
    if of_output or (model in _CHARGING and plain in _VOLTAGES):
        return _which_voltage(model, block[Text(key)])
    if model == "Controller" and _both_limits(block[Text(key)]):
        return TWO_LIMITS
    if right := renamed(model, plain, fitting):
        held = block[Text(key)]
        if model == "Plan" and right in _OF_SECTIONS and isinstance(held, Block):
            return f"write `{right}`"
        if model == "Plan" and right in FORMS and not (_is_family(held) or _is_list(held)):
            return f"write `{right}: {FORMS[right]}`"
        return f"write `{right}`"
    if model == "Distribution" and (way := _way_meant(key, block[Text(key)])):
        return f"its ways stand under `ways`: write `ways: {{{way}}}`"
    if model == "Plan" and (
        right := _section(block[Text(key)]) or _family(plain, block[Text(key)])
    ):
        return f"write `{right}`"
    if model == "Site" and plain == "place" and _is_family(block[Text(key)]):
        return "write `places`"
    instead = ELSEWHERE.get(model, {}).get(plain, "") or anywhere(model, plain)
    if not instead and model in ("Inverter", "InverterCharger"):
        return solar_input_meant(plain)
    if instead is MODULES and (held := block[Text(key)]) and _is_family(held):
        return LABELS
    return instead


_CHARGING: Final = ("Controller", "Charger", "InverterCharger")
_VOLTAGES: Final = ("voltage", "volts", "v", "rated_voltage")


def _which_voltage(model: str, held: Node) -> str:
    """A voltage of what charges, of which there are several."""
    if isinstance(held, Text) and re.fullmatch(
        r"(6|12|24|36|48|12[.]8|25[.]6|51[.]2) ?[vV].*", held
    ):
        return "write `nominal`"
    solar = ", `max_input_voltage` for the most that its solar input stands"
    return _WHICH_VOLTAGE + (solar if model == "Controller" else "")


_FAMILIES_OF: Final = (
    *("strings", "controllers", "fuses", "breakers", "switches", "batteries", "inverters"),
    *("loads", "chargers", "converters", "busbars", "wires"),
)
"""Families that people write with a word before, as in `solar_strings`."""


def _family(plain: str, held: Node) -> str:
    """The family that a section of a plan is, by the end of its name or by what stands in it."""
    if not _is_family(held) or not held or plain.startswith(("ac_", "hybrid_", "micro_", "grid_")):
        return ""
    assert isinstance(held, Block)
    if all(
        isinstance(each, Block) and {"from", "to"} <= set(map(str, each)) for each in held.values()
    ):
        return "wires"
    return next((family for family in _FAMILIES_OF if plain.endswith(f"_{family}")), "")


def _section(node: Node) -> str:
    """The section of a plan that a block is by what stands in it; empty where it is none."""
    held = set(map(str, node)) if isinstance(node, Block) else set()
    return next((key for key, keys in _OF_SECTIONS.items() if held and held <= keys), "")


_OF_SECTIONS: Final = {
    "site": {"coldest", "hottest", "latitude", "height", "obstacles", "places"},
    "datasheets": {"modules", "cables"},
    "energy": {"sun_hours", "sky", "uses", "standby"},
}
"""What stands in sections of a plan that have no names."""

_SECTIONS: Final = frozenset(
    ("setting", "site", "datasheets", "strings", "controllers", "batteries", "wires", "fuses")
)


def _setting(model: str, held: Node) -> str:
    """What to write of a location that tells what the installation is in."""
    settings = ("vehicle", "boat", "cabin", "portable")
    word = sure_word(held, settings) if model == "Plan" and isinstance(held, Text) else ""
    return f"write `setting: {word}`" if word else ""


def _wraps_a_plan(node: Node) -> bool:
    """True for a block whose keys are sections of a plan."""
    return isinstance(node, Block) and len(set(map(str, node)) & _SECTIONS) > 1


_AZIMUTHS: Final = ("azimuth", "facing", "orientation", "direction", "aspect", "heading", "bearing")
_EIGHT: Final = (
    *("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"),
)


def _facing(node: Node) -> str:
    """What to write of a direction in degrees; empty of anything else."""
    degrees = (
        re.fullmatch(r"([0-9]{1,3})([.]0)? ?(°|deg|degrees)?", node)
        if (isinstance(node, Text))
        else None
    )
    if degrees is None or int(degrees[1]) > 360:
        return ""
    word = _EIGHT[round(int(degrees[1]) / 45) % 8]
    return (
        f"write `facing: {word}` if that counts from north over east, or another of the eight "
        "directions"
    )


def _is_yes(block: Block, key: str) -> bool:
    return str(block[Text(key)]).lower() in ("true", "yes", "y", "on")


def _of_the_mains(node: Node) -> bool:
    """True for an alternating voltage or a frequency, with which an inverter is described."""
    found = r"(1[0-2][0-9]|2[0-4][0-9]) ?V.*|.*[0-9] ?(VAC|V ?AC|Hz)\b.*"
    return isinstance(node, Text) and re.fullmatch(found, node, re.IGNORECASE) is not None


def _both_limits(node: Node) -> bool:
    """True for the two figures by which tracking controllers are named, volts and amperes."""
    return isinstance(node, Text) and re.fullmatch(r"\d+ ?V? ?[/|] ?\d+ ?A?", node) is not None


def _breaker_of_way(held: Node) -> str:
    """A way of a panel of breakers, whose rating is told as that of a fuse."""
    rating = held if isinstance(held, Text) and re.match("[0-9]", held) else "… A"
    return (
        f"write `fuse: {rating}`, and of which kind the breaker is: `style: toggle-breaker` or "
        "`push-button-breaker`"
    )


def _is_list(node: Node) -> bool:
    return isinstance(node, Items) and bool(node)


def _is_family(node: Node) -> bool:
    """True for components under names of their own."""
    return isinstance(node, Block) and all(isinstance(held, Block) for held in node.values())
