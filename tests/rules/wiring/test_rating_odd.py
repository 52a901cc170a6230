"""Limits with a digit too many."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, faulty, found, levels, sound

ODD = "rating-odd"


def test_a_tracker_for_12_volts_that_takes_1000() -> None:
    [finding] = found(faulty(ODD), ODD)
    assert (finding.level, finding.subjects) == ("warning", ("tracker",))
    assert finding.message == (
        "`tracker` is told to take 1000 V from its array, and no controller for 12 V is made for "
        "more than 300 V: is it 100 V?"
    )


@pytest.mark.parametrize(("volts", "expected"), [("300 V", []), ("301 V", ["warning"])])
def test_for_12_volts(volts: str, expected: list[str]) -> None:
    plan = sound(ODD, ("max_input_voltage: 100 V", f"max_input_voltage: {volts}"))
    assert levels(plan, ODD) == expected


@pytest.mark.parametrize(("volts", "expected"), [("600 V", []), ("2500 V", ["warning"])])
def test_for_48_volts(volts: str, expected: list[str]) -> None:
    text = build("van-forty-eight-volt")
    plan = edited(("max_input_voltage: 150 V", f"max_input_voltage: {volts}"), plan=text)
    assert levels(plan, ODD) == expected


@pytest.mark.parametrize(
    ("plug", "amps", "expected"),
    [
        ("genderless-50", "50 A", []),
        ("genderless-50", "500 A", ["warning"]),
        ("flat-two-pin", "25 A", []),
        ("flat-two-pin", "100 A", ["warning"]),
        ("trailer-7", "30 A", []),
        ("cigar", "150 A", ["warning"]),
    ],
)
def test_plugs(plug: str, amps: str, expected: list[str]) -> None:
    old = "plug: genderless-50, plug_rating: 50 A"
    text = build("teardrop-two-ways-in")
    plan = edited((old, f"plug: {plug}, plug_rating: {amps}"), plan=text)
    assert levels(plan, ODD) == expected


@pytest.mark.parametrize(("amps", "expected"), [("70 A", []), ("300 A", ["warning"])])
def test_branch_connectors(amps: str, expected: list[str]) -> None:
    text = build("portable-two-on-a-box")
    plan = edited(
        ("branch-connector, rating: 30 A", f"branch-connector, rating: {amps}"), plan=text
    )
    assert levels(plan, ODD) == expected
    box = edited(("branch-connector", "combiner-box"), plan=plan)
    assert not found(box, ODD)


@pytest.mark.parametrize(
    ("old", "new", "subject"),
    [
        ("bar: {rating: 250 A", "bar: {rating: 2500 A", "bar"),
        ("main-off: {rating: 200 A", "main-off: {rating: 2000 A", "main-off"),
        ("panel: {rating: 60 A", "panel: {rating: 1200 A", "panel"),
    ],
)
def test_bars_switches_and_panels(old: str, new: str, subject: str) -> None:
    [finding] = found(edited((old, new), plan=build("van-forty-eight-volt")), ODD)
    assert (finding.level, finding.subjects) == ("warning", (subject,))
    assert "none is made for more than" in finding.message
