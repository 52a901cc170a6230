"""Voltages read at batteries side by side that should be one."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

PACKS = "reading-packs-unequal"


@pytest.mark.parametrize(
    ("volts", "fires"), [("13.06 V", False), ("13.04 V", True), ("12.3 V", True), ("14.4 V", True)]
)
def test_a_quarter_of_a_volt(volts: str, fires: bool) -> None:
    plan = sound(PACKS, ("voltage: 13.31 V", f"voltage: {volts}"))
    assert levels(plan, PACKS) == (["warning"] if fires else [])


def test_words() -> None:
    [finding] = found(faulty(PACKS), PACKS)
    assert "`house` reads 13.3 V and `twin`, beside it, 12.3 V: 1 V apart" in finding.message


def test_of_another_day_says_nothing() -> None:
    plan = edited(
        ("{at: house,", "{at: house, taken: monday,"),
        ("{at: twin,", "{at: twin, taken: tuesday,"),
        plan=faulty(PACKS),
    )
    assert not found(plan, PACKS)


@pytest.mark.parametrize(
    ("closes", "capacity", "fires"),
    [("", "100 Ah", True), (", closes_above: 13.4 V", "100 Ah", False), ("", "80 Ah", False)],
)
def test_behind_a_switch(closes: str, capacity: str, fires: bool) -> None:
    """Packs alike are about to be joined; a starter battery behind a relay stands for itself."""
    switch = f"join: {{rating: 100 A, voltage: 32 V, dc: true{closes}}}"
    plan = edited(
        ("switches:\n", f"switches:\n  {switch}\n"),
        (
            "{link-fuse: {from_end: from, distance: 0 cm}},",
            "{link-fuse: {from_end: from, distance: 0 cm}}, join,",
        ),
        (
            "twin: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah",
            f"twin: {{chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: {capacity}",
        ),
        plan=faulty(PACKS),
    )
    assert bool(found(plan, PACKS)) is fires


@pytest.mark.parametrize(("volts", "fires"), [("13.06 V", False), ("12.6 V", True)])
def test_batteries_in_series_are_alike_before_they_are_charged_together(
    volts: str, fires: bool
) -> None:
    """What overcharges the one leaves the other empty; nothing flows between the two by itself."""
    plan = edited(
        ("from: house, to: twin,", "from: house.negative, to: twin.positive,"),
        ("tracker.battery, to: house,", "tracker.battery.positive, to: house.positive,"),
        (
            "readings:",
            "  back: {from: twin.negative, to: tracker.battery.negative, cable: batt-8, "
            "length: 1 m}\nreadings:",
        ),
        plan=sound(PACKS, ("voltage: 13.31 V", f"voltage: {volts}")),
    )
    findings = found(plan, PACKS)
    assert [f.level for f in findings] == (["note"] if fires else [])
    assert all("in series with it, 12.6 V: 0.7 V apart" in f.message for f in findings)
    other = edited(
        (
            "twin: {chemistry: lithium-iron-phosphate, nominal: 12.8 V",
            "twin: {chemistry: lithium-iron-phosphate, nominal: 25.6 V",
        ),
        plan=plan,
    )
    assert not found(other, PACKS)
