"""How long the stretches of a wire are that devices divide, where places are told and where not."""

from __future__ import annotations

import pytest

from external.battery_sides import HEAD
from plans import edited
from study.test_allowed import BASE
from wattproof.circuit import Conductor
from wattproof.testing import study_of

FROM_BANK = "from: house, to: bar, cable: thick, length: 50 cm"
INLINE = "inline: [{house-fuse: {from_end: from, distance: 10 cm}}]"
MADE = "voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true"
SECOND = ("fuses:\n", f"fuses:\n  second: {{rating: 90 A, {MADE}}}\n")


@pytest.mark.parametrize(
    ("ends", "inline", "lengths"),
    [
        ("from: house, to: bar", "house-fuse", [0.0, 0.5]),
        ("from: bar, to: house", "house-fuse", [0.5, 0.0]),
        ("from: house, to: bar", "{house-fuse: {from_end: from, distance: 10 cm}}", [0.1, 0.4]),
        ("from: house, to: bar", "{house-fuse: {from_end: to, distance: 10 cm}}", [0.4, 0.1]),
        ("from: house, to: bar", "house-fuse, second", [0.0, 0.0, 0.5]),
        ("from: bar, to: house", "house-fuse, second", [0.5, 0.0, 0.0]),
        (
            "from: house, to: bar",
            "{house-fuse: {from_end: from, distance: 10 cm}}, second",
            [0.1, 0.0, 0.4],
        ),
        (
            "from: house, to: bar",
            "{house-fuse: {from_end: from, distance: 10 cm}}, "
            "{second: {from_end: to, distance: 15 cm}}",
            [0.1, 0.25, 0.15],
        ),
    ],
)
def test_what_is_not_told_lies_behind_the_device_nearest_the_bank(
    ends: str, inline: str, lengths: list[float]
) -> None:
    plan = edited(
        SECOND,
        (FROM_BANK, FROM_BANK.replace("from: house, to: bar", ends)),
        (INLINE, f"inline: [{inline}]"),
        plan=BASE,
    )
    study = study_of(plan)
    for pole in ("positive", "negative"):
        parts = [
            part
            for part in study.circuit.elements
            if isinstance(part, Conductor) and part.name == "house-run" and part.pole == pole
        ]
        found = [study.wiring.network.lengths[part] for part in parts]
        assert found == pytest.approx(lengths if pole == "positive" else [0.5])


def test_each_kind_of_cable_is_held_against_the_charge_voltage_once() -> None:
    """Of two runs of one cable and one of another: two kinds, and no bar that tells its voltage."""
    plan = BASE.replace("wires:\n", "wires:\n  second-run: {from: bar, to: lamp, cable: thin, "
                        "length: 1 m, place: cabin}\n")  # fmt: skip
    found = study_of(plan).wiring.on_charge_voltage
    assert [(each.what, each.name) for each in found] == [("cable", "thick"), ("cable", "thin")]
    assert {each.rated.number for each in found} == {600.0}


@pytest.mark.parametrize("turned", [False, True])
def test_seen_from_the_battery_over_the_way_round(turned: bool) -> None:
    """Between a bar on the battery and one behind that: the near one is the first."""
    ends = ("far", "near") if turned else ("near", "far")
    fuse = f"fuses:\n  main: {{rating: 90 A, {MADE}}}\n"
    wires = (
        "  plus: {from: house.positive, to: near.positive, cable: batt-8, length: 1 m}\n"
        "  minus: {from: house.negative, to: near.negative, cable: batt-8, length: 1 m}\n"
        "  round: {from: near.positive, to: far.positive, cable: batt-8, length: 1 m}\n"
        f"  run: {{from: {ends[0]}.positive, to: {ends[1]}.positive, cable: batt-8, length: 2 m, "
        "inline: [main]}\n"
    )
    text = (
        f"{HEAD}{fuse}batteries:\n  house: {{chemistry: agm, nominal: 12 V, capacity: 100 Ah}}\n"
        f"busbars:\n  near: {{rating: 300 A}}\n  far: {{rating: 300 A}}\nwires:\n{wires}"
    )
    study = study_of(text)
    own = [study.wiring.network.lengths[part] for part in study.wiring.wires["run"].conductors]
    assert own == ([2.0, 0.0] if turned else [0.0, 2.0])
