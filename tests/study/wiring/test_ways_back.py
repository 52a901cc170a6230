"""Where current comes back: by a negative of one's own, one shared inside, the body, or nothing."""

from __future__ import annotations

import pytest

from external.battery_sides import HEAD
from study.wiring.test_network import lasting
from wattproof.study import Study
from wattproof.testing import study_of

SIDE = (
    HEAD
    + """\
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 2 kA}
  start: {chemistry: agm, nominal: 12 V, capacity: 70 Ah, short_circuit_current: 2 kA}
"""
)


def study(parts: str, wires: str, bonds: str = "") -> Study:
    text = f"{SIDE}{parts}wires:\n"
    for name, run in (line.split(": ", 1) for line in wires.strip().splitlines()):
        text += f"  {name.strip()}: {{{run}, cable: batt-8, length: 1 m}}\n"
    return study_of(text + bonds)


ENGINE = "chargers:\n  alternator: {kind: alternator, max_output_current: 60 A}\n"


@pytest.mark.parametrize(
    ("back", "by_wire", "by_body"),
    [("", None, 60.0), ("minus: from: alternator.negative, to: house.negative", 60.0, 0.0)],
)
def test_an_alternator_gives_back_by_its_own_wire_or_by_the_body(
    back: str, by_wire: float | None, by_body: float
) -> None:
    found = study(
        ENGINE,
        "body: from: house.negative, to: chassis\n"
        f"plus: from: alternator.positive, to: house.positive\n{back}",
    )
    assert lasting(found, "plus") == 60.0
    assert lasting(found, "body") == by_body
    assert by_wire is None or lasting(found, "minus") == by_wire


@pytest.mark.parametrize(
    ("more", "closed"),
    [
        ("", True),
        (", common: negative", True),
        (", common: positive", False),
        (", isolated: true", False),
    ],
)
def test_an_input_that_shares_its_negative_inside(more: str, closed: bool) -> None:
    """In by one wire from the engine's battery, back by what is shared inside, if anything."""
    charger = f"kind: vehicle-charger, max_output_current: 20 A, max_input_voltage: 60 V{more}"
    found = study(
        f"controllers:\n  engine: {{{charger}}}\n",
        "in: from: start.positive, to: engine.alternator.positive\n"
        "out: from: engine.battery.positive, to: house.positive\n"
        "back: from: engine.battery.negative, to: house.negative\n"
        "tie: from: house.negative, to: start.negative",
    )
    open_ones = {(str(n.component.name), n.port) for n in found.wiring.not_closed}
    assert (("engine", "alternator") not in open_ones) is closed


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("more", ["", "shore", "start"])
def test_what_a_wire_brings_to_the_body(turned: bool, more: str) -> None:
    """Of a lamp and an alternator the lamp's; none where a battery is behind it, or another wire.

    Whichever end of it is declared first.
    """
    parts = (
        "chargers:\n  alternator: {kind: alternator, max_output_current: 60 A}\n"
        "busbars:\n  bar: {rating: 100 A}\nloads:\n  lamp: {current: 2 A}\n"
    )
    ends = ("chassis", "bar.negative") if turned else ("bar.negative", "chassis")
    wires = (
        "body: from: house.negative, to: chassis\n"
        "plus: from: house.positive, to: lamp.positive\n"
        "minus: from: lamp.negative, to: bar.negative\n"
        "engine: from: alternator.positive, to: house.positive\n"
        "engine-back: from: alternator.negative, to: bar.negative\n"
        f"run: from: {ends[0]}, to: {ends[1]}\n"
    )
    if more == "shore":
        wires += "beside: from: bar.negative, to: chassis\n"
    if more == "start":
        wires += (
            "own: from: start.negative, to: bar.negative\n"
            "own-plus: from: start.positive, to: bar.positive\n"
        )
    found = study(parts, wires).wiring.body_returns
    assert [(r.wire.name, r.through) for r in found] == ([] if more else [("run", "chassis")])
