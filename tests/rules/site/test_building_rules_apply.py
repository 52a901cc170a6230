"""What an array on a building must have besides, by its voltage."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found

BUILDING = "building-rules-apply"


def test_on_a_building() -> None:
    """2 × 24.3 V × (1 + 0.0029 × 43) = 54.66 V; arcs have a rule of their own."""
    [finding] = found(faulty(BUILDING), BUILDING)
    assert finding.level == "note"
    assert finding.message == (
        "`rack-string` on a building, up to 54.7 V: building rules ask for a disconnect that "
        "opens under load, a rapid shutdown, protection against faults to earth, "
        "labels where it is cut off and along its cables"
    )
    plan = edited(("series: 2", "series: 3"), plan=faulty(BUILDING))
    assert "arcs" not in found(plan, BUILDING)[0].message


def test_the_international_rules_and_their_list() -> None:
    plan = edited(("code: nec-2023", "code: iec"), plan=faulty(BUILDING))
    [finding] = found(plan, BUILDING)
    assert "shutdown" not in finding.message
    assert "a disconnect that opens under load" in finding.remedy


@pytest.mark.parametrize(
    "edit",
    [
        ("on_building: true", "sunlight: true"),
        ("setting: cabin", "setting: vehicle"),
        ("open-rack, place: rack", "open-rack"),
    ],
)
def test_elsewhere_it_is_silent(edit: tuple[str, str]) -> None:
    assert not found(edited(edit, plan=faulty(BUILDING)), BUILDING)


def test_faults_to_earth_from_30_volts_or_8_amperes_on() -> None:
    """At 25 °C two of 24.3 V have 48.6 V, one has 24.3 V; 6.4 A × 1.25 is 8 A."""
    words, one = "protection against faults to earth", ("series: 2", "series: 1")
    mild = ("coldest: -18 °C", "coldest: 25 °C")
    assert words in found(faulty(BUILDING), BUILDING)[0].message
    assert words not in found(edited(one, mild, plan=faulty(BUILDING)), BUILDING)[0].message
    for isc, expected in (("6.4 A", False), ("6.41 A", True)):
        plan = edited(one, mild, ("isc: 5.2 A", f"isc: {isc}"), plan=faulty(BUILDING))
        assert (words in found(plan, BUILDING)[0].message) == expected


def test_protection_that_is_there_is_not_asked_for_and_one_that_is_not_is_a_warning() -> None:
    unsaid = "blocks_reverse: true}"
    for fitted, level in (("true", "note"), ("false", "warning")):
        plan = edited(
            (unsaid, f"blocks_reverse: true, ground_fault_protection: {fitted}}}"),
            plan=faulty(BUILDING),
        )
        [finding] = found(plan, BUILDING)
        assert finding.level == level
        assert ("faults to earth" in finding.message) == (fitted == "false")
        assert ("tracker" in finding.subjects) == (fitted == "false")


def test_it_is_said_once_for_all_strings() -> None:
    plan = edited(
        ("wires:\n", "combiners: {joint: {joins: [rack-string, other], rating: 30 A}}\nwires:\n"),
        ("strings:\n", "strings:\n  other: {module: rigid-100, series: 3, place: rack}\n"),
        ("home-run: {from: rack-string", "home-run: {from: joint"),
        plan=faulty(BUILDING),
    )
    [finding] = found(plan, BUILDING)
    assert set(finding.subjects) == {"other", "rack-string"}
