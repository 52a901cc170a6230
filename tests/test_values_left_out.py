"""A plan of which the structure alone is left brings nothing certain but what follows from that.

What is joined to what stays, how many are in series, of which kind a part is; every quantity is
left out, and with it what is printed on parts, how long wires are and where they lie. Whatever is
certain then, beside no figure of the plan, may not hang on a figure that was put in its place.
"""

from __future__ import annotations

import io
import re
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from amounts import amount
from found import found_alone
from wattproof.finding import Finding
from wattproof.packs import discover
from wattproof.working import declared_places

HERE = Path(__file__).parent
PATHS = [
    p
    for folder in ("typical", "builds")
    for p in sorted((HERE / "external" / folder).glob("*.yaml"))
]
PLANS = [p for p in PATHS if not p.name.endswith(".judged.yaml") and p.stem != "measured"]

OF_STRUCTURE = {
    "alternator-can-lose-battery": "a switch, wherever it is, takes the battery off",
    "array-switch-missing": "nothing takes the array off, whatever it gives",
    "battery-fuse-missing": "no fuse is there, whatever it would have to open",
    "device-not-for-dc": "the kind of the fuse",
    "inverter-on-load-terminals": "no inverter belongs there, however small",
    "load-on-half-bank": "the load hangs on one of two in series, whatever it draws",
    "mount-not-proven": "how it is held; the wind is told beside it",
    "pwm-voltage-wasted": "the kind of the controller and the cells of the module",
    "solid-conductor-in-motion": "the kind of the wire",
    "temperature-compensation-wrong": "that there is one, whatever its size, and the chemistry",
}
"""Rules that judge by what is joined and of which kind, and why no figure changes the verdict."""

OF_MEASURE = {"energy", "readings", "accepted", "shade", "site", "uses", "sun_hours", "parts"}
"""What tells figures alone, at the top of a plan."""

NAMED = {"arrangement", "cable", "input_nominal", "output_nominal", "series", "ways"}
"""What may begin with a number and is no measure: how many there are, what it is made for."""

QUANTITY = re.compile(
    r"-?[\d./]+ ?(%|°|\"|mm|cm|m\b|ft|in|A|V|W|k[AW]|mV|mΩ|AWG|kcmil|h|inch|amp|volt|watt|gauge)"
)


def left_of(node: Any) -> Any:
    """The same without its quantities; `unknown` for a part of which nothing else was told."""
    if isinstance(node, list):
        return [left_of(each) for each in node]
    if not isinstance(node, dict):
        return node
    left = {}
    for key, value in node.items():
        if key == "place":
            continue
        if isinstance(value, str) and key not in NAMED and QUANTITY.match(value):
            if key in ("fuse", "distance"):  # without them it says that there is none
                left[key] = "unknown"
            continue
        left[key] = left_of(value)
    return left or "unknown"


def structure(text: str) -> str:
    """A plan's text with its quantities left out."""
    yaml = YAML(typ="safe")
    plan = {key: value for key, value in yaml.load(text).items() if key not in OF_MEASURE}
    written = io.StringIO()
    YAML().dump(left_of(plan), written)
    return written.getvalue()


def follows(found: Finding, left: str) -> bool:
    """True for what follows from the structure of a plan that is left.

    So does a loss in the line to a trailer: it is some metres long, and of the sizes that such a
    plug takes none is thick enough for an alternator.
    """
    if found.rule == "voltage-drop-high":
        wire = YAML(typ="safe").load(left)["wires"][found.subjects[0]]
        return str(wire.get("plug", "")).startswith("trailer-")
    return found.rule in OF_STRUCTURE


@pytest.mark.parametrize("path", PLANS[:: amount(12, 1, whole=2)], ids=lambda path: path.stem)
def test_nothing_is_certain_that_rests_on_what_was_put_in_place_of_figures(path: Path) -> None:
    left = structure(path.read_text(encoding="utf-8"))
    result = found_alone(path.name, left, discover())
    for found in result.each:
        if found.level == "note" or found.verdict != "certain" or follows(found, left):
            continue
        guessed = any(value.assumptions for value in found.values)
        assert not guessed or declared_places(found.values), (found.rule, found.message, left)


def test_most_plans_can_be_read_without_their_quantities() -> None:
    texts = [structure(path.read_text(encoding="utf-8")) for path in PLANS[::12]]
    read = [not found_alone("plan.yaml", text, discover()).problems for text in texts]
    assert sum(read) >= 0.8 * len(read), [
        p.stem for p, well in zip(PLANS[::12], read, strict=True) if not well
    ]
