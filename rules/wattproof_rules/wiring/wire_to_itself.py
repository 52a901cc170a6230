"""Wires whose two ends are one and the same."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice("a wire joins two terminals; one that joins none carries nothing"),
}

MORE = """\
wires:
  body-tie: {from: house.negative, to: chassis, cable: batt-8, length: 0.5 m, place: cabin}
"""


@rule(
    id="wire-to-itself",
    summary="Wires whose two ends are one terminal.",
    covers=("A wire that leads back to where it begins",),
    level="warning",
    hazard="damage",
    part="conductor",
    basis=BASIS,
    explanation="A wire from a terminal to that same terminal joins nothing. Mostly a name was "
    "written twice where another was meant: then what it should feed, charge or tie is judged "
    "as if that wire were not there, and so is any fuse or switch that sits in it.",
    fine="Where its far end is not known yet. Better take the wire out until it is.",
    since="0.6.0",
    sound=plan("van", more=MORE),
    faulty=Edit("to: chassis", "to: house.negative"),
)
def wire_to_itself(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        if not wire.is_loop:
            continue
        inside = [each.device for each in wire.wire.inline]
        devices = [study.wiring.devices[name].device for name in inside]
        useless = f", and {quoted(inside)} in it does nothing" if inside else ""
        yield Observation(
            message=f"both ends of `{wire.name}` are `{wire.wire.start}`: it joins nothing"
            + useless,
            on=(wire, *devices),
            remedy=f"write where `{wire.name}` leads under its `from` or `to`, or delete it",
        )
