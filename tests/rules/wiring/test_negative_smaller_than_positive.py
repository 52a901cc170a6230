"""A return conductor against the fuses of the positives whose current it carries back."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, found, sound

PARALLEL = "paralleled-small-wires"
NEGATIVE = "negative-smaller-than-positive"
CHASSIS = "chassis-as-return"


@pytest.mark.parametrize(
    ("fuse", "level"),
    [
        ("110 A", ""),  # at it: 1 AWG on 60 °C terminals carries 110 A
        ("125 A", "warning"),
        ("150 A", "warning"),  # the next size above the 130 A of terminals marked for 75 °C
        ("175 A", "error"),
    ],
)
def test_a_thinner_negative(fuse: str, level: str) -> None:
    plan = edited(
        ("to: main-bar.negative, cable: batt-1-0", "to: main-bar.negative, cable: batt-1"),
        ("bank-fuse: {rating: 150 A", f"bank-fuse: {{rating: {fuse}"),
        plan=sound(NEGATIVE),
    )
    findings = found(plan, NEGATIVE)
    assert [(f.level, f.subjects) for f in findings] == (
        [(level, ("inverter-negative", "inverter-positive"))] if level else []
    )
    if level:
        assert (
            f"guarded by `bank-fuse` only, {fuse}; 110 A is the largest that protects it"
            in findings[0].message
        )
        size = "2/0 AWG" if fuse == "175 A" else "1/0 AWG"
        assert f"use {size} for `inverter-negative`" in findings[0].remedy


def test_a_shared_negative_is_held_against_the_largest_of_its_positives() -> None:
    """The fan's fuse alone would be small enough for the common return; the lamp's is not."""
    plan = edited(
        ("busbars:\n", "busbars:\n  returns: {}\n"),
        ("inverters:\n", "loads: {lamp: {current: 10 A}, fan: {current: 2 A}}\ninverters:\n"),
        ("fuses:\n", "fuses:\n  lamp-fuse: {rating: 60 A, voltage: 125 V, interrupt: 20 kA}\n"
         "  fan-fuse: {rating: 5 A, voltage: 125 V, interrupt: 20 kA}\n"),
        ("wires:\n", "wires:\n"
         "  lamp-plus: {from: main-bar.positive, to: lamp.positive, cable: batt-1, length: 1 m, "
         "inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}\n"
         "  fan-plus: {from: main-bar.positive, to: fan.positive, cable: batt-8, length: 1 m, "
         "inline: [{fan-fuse: {from_end: from, distance: 10 cm}}]}\n"
         "  lamp-minus: {from: lamp.negative, to: returns.negative, cable: batt-1, length: 1 m}\n"
         "  fan-minus: {from: fan.negative, to: returns.negative, cable: batt-8, length: 1 m}\n"
         "  common: {from: returns.negative, to: main-bar.negative, cable: batt-8, length: 1 m}\n"),
        plan=sound(NEGATIVE),
    )  # fmt: skip
    [finding] = found(plan, NEGATIVE)
    assert finding.subjects == ("common", "lamp-plus")
    assert "guarded by `lamp-fuse` only, 60 A" in finding.message


def test_pairs_and_positives_are_not_asked() -> None:
    assert not found(sound(CHASSIS), NEGATIVE)
    assert not found(sound(PARALLEL), NEGATIVE)


@pytest.mark.parametrize(
    ("size", "told"), [("2.5 mm²", []), ("0.75 mm²", []), ("0.3 mm²", ["lamp-back"])]
)
def test_what_returns_through_the_body(size: str, told: list[str]) -> None:
    """The fuse of the way, 10 A, stands for the wire to the body too."""
    plan = edited(
        ("    sun: {", f"    back: {{type: FLRY-B, size: {size}, material: copper}}\n    sun: {{"),
        ("lamp-back: {from: lamps.negative, to: chassis, cable: lamp",
         "lamp-back: {from: lamps.negative, to: chassis, cable: back"),
        plan=build("van-chassis-returns"),
    )  # fmt: skip
    assert [f.subjects[0] for f in found(plan, NEGATIVE)] == told


def test_the_positive_that_it_is_the_return_of_has_the_fuse() -> None:
    """At the post of the car's battery its alternator and the line to the trailer meet."""
    plan = """\
wattproof: 1
setting: vehicle
code: iec
datasheets:
  cables:
    thick: {size: 50 mm², kind: battery, insulation_temperature: 105 °C}
    thin: {size: 4 mm², kind: battery, insulation_temperature: 105 °C}
fuses:
  car-fuse: {rating: 100 A, style: stud-mounted, voltage: 58 V, interrupt: 10 kA}
  trailer-fuse: {rating: 100 A, style: stud-mounted, voltage: 58 V, interrupt: 10 kA}
batteries:
  car: {chemistry: agm, nominal: 12 V, capacity: 80 Ah}
  trailer: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
chargers:
  alternator: {kind: alternator, max_output_current: 90 A}
wires:
  engine: {from: alternator.positive, to: car.positive, cable: thick, length: 50 cm}
  car-tie: {from: car.negative, to: chassis, cable: thick, length: 50 cm}
  trailer-tie: {from: trailer.negative, to: chassis, cable: thin, length: 50 cm}
  line: {from: car.positive, to: trailer.positive, cable: thick, length: 5 m,
         inline: [{car-fuse: {from_end: from, distance: 10 cm}},
                  {trailer-fuse: {from_end: to, distance: 10 cm}}]}
"""
    told = [f for f in found(plan, NEGATIVE) if f.subjects[0] == "trailer-tie"]
    assert [f.subjects[1] for f in told] == ["line"]
    assert "the return of `line`" in told[0].message
