"""Strings that are alike against each other, by what was read at them."""

from __future__ import annotations

import pytest

from rule_runs import found_beside_all as found
from rules.readings.plans import read, strings
from wattproof.testing import study_of

UNEQUAL = "reading-strings-unequal"
MISSING = "reading-conditions-missing"
EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"


def pair(first_isc: str, second_isc: str, more: str = ", taken: noon") -> str:
    return read(
        f"at: string-1, isc: {first_isc}, {EXACT}{more}",
        f"at: string-2, isc: {second_isc}, {EXACT}{more}",
        plan=strings(2),
    )


@pytest.mark.parametrize(
    ("weak", "is_told"),
    [("4.74 A", True), ("4.75 A", False), ("4.76 A", False), ("5.00 A", False)],
)
def test_strings_more_than_a_twentieth_apart(weak: str, is_told: bool) -> None:
    assert bool(found(pair("5.00 A", weak), UNEQUAL)) is is_told
    assert bool(found(pair(weak, "5.00 A"), UNEQUAL)) is is_told


def test_the_weak_string_is_named() -> None:
    (finding,) = found(pair("5.0 A", "4.0 A"), UNEQUAL)
    assert finding.subjects == ("r2", "string-2", "r1", "string-1")
    assert "20 % apart" in finding.message
    assert not found(pair("5.0 A", "4.0 A"), MISSING)


@pytest.mark.parametrize("nothing", ["0 A", "-0.1 A"])
def test_a_dead_string_shows_beside_its_neighbour(nothing: str) -> None:
    plan = pair("4.0 A", nothing).replace("zero: 0 A", "zero: 0.2 A")
    (finding,) = found(plan, UNEQUAL)
    assert finding.subjects[0] == "r2"
    assert not found(pair("0 A", "0 A"), UNEQUAL)


def test_readings_not_taken_together_are_not_compared_without_the_sun() -> None:
    plan = read(
        f'at: string-1, isc: 5 A, taken: "noon", {EXACT}',
        f'at: string-2, isc: 4 A, taken: "four", {EXACT}',
        plan=strings(2),
    )
    assert not found(plan, UNEQUAL)
    assert len(found(plan, MISSING)) == 2


def test_readings_that_do_not_say_when_are_not_taken_together() -> None:
    plan = pair("5.0 A", "4.0 A", more="")
    assert not found(plan, UNEQUAL)
    assert len(found(plan, MISSING)) == 2


@pytest.mark.parametrize("lies", ["tilt: 20°, facing: east", "mounting: open-rack", "place: roof"])
def test_strings_that_lie_otherwise_see_other_sun_and_heat(lies: str) -> None:
    other = "module: rigid-100, series: 3, mounting: roof-gap"
    key = lies.split(":")[0]
    changed = other.replace("mounting: roof-gap", lies) if key == "mounting" else f"{other}, {lies}"
    plan = pair("5.0 A", "4.0 A").replace(f"string-2: {{{other}}}", f"string-2: {{{changed}}}")
    assert changed in plan
    assert not found(plan, UNEQUAL)
    assert len(found(plan, MISSING)) == 2


def test_only_what_was_allowed_for_is_said() -> None:
    (raw,) = found(pair("5.0 A", "4.0 A"), UNEQUAL)
    assert raw.message.endswith("20 % apart, the meter's drift allowed for")
    known = pair("5.3 A", "5.0 A", more=", irradiance: 1000 W/m², back_temperature: 40 °C")
    (scaled,) = found(known, UNEQUAL)
    assert scaled.message.endswith("6 % apart, the meter's drift and other sun allowed for")


def test_with_the_sun_known_they_are_compared_as_shares_of_it() -> None:
    plan = read(
        f"at: string-1, isc: 5.2 A, irradiance: 1000 W/m², back_temperature: 40 °C, {EXACT}",
        f"at: string-2, isc: 2.6 A, irradiance: 500 W/m², back_temperature: 40 °C, {EXACT}",
        plan=strings(2),
    )
    assert not found(plan, UNEQUAL)
    apart = plan.replace("isc: 5.2 A, irradiance", "isc: 5.4 A, irradiance")
    assert found(apart.replace("isc: 2.6 A", "isc: 2.5 A"), UNEQUAL)


def test_currents_in_operation_are_compared_too() -> None:
    plan = read(
        f"at: string-1, current: 4.6 A, taken: noon, {EXACT}",
        f"at: string-2, current: 3.9 A, taken: noon, {EXACT}",
        plan=strings(2),
    )
    (finding,) = found(plan, UNEQUAL)
    assert "current in operation" in finding.message


def test_unlike_strings_are_not_compared() -> None:
    plan = pair("5.0 A", "4.0 A").replace(
        "string-2: {module: rigid-100, series: 3", "string-2: {module: rigid-100, series: 2"
    )
    assert not found(plan, UNEQUAL)


def test_what_like_strings_would_find_is_told_where_no_sun_is() -> None:
    """5 %, and what the clamp may drift, 0.1 A of 4.0 A."""
    beside = 'taken: "noon", meter: {zero: 0.1 A}'
    plan = read(
        f"at: string-1, current: 4.0 A, {beside}",
        f"at: string-2, current: 4.0 A, {beside}",
        plan=strings(2),
    )
    readings = study_of(plan).readings
    for reading in readings.at_arrays:
        [finds] = readings.finds(reading)
        assert finds.quantity == "current"
        assert finds.share.number == pytest.approx(0.05 + 0.1 / 4.0)
    alone = study_of(read(f"at: string-1, current: 4.0 A, {beside}", plan=strings(2))).readings
    assert not alone.finds(alone.at_arrays[0])


@pytest.mark.parametrize(
    ("key", "weak", "dark"),
    [
        ("current", "0 A", True),
        ("current", "0.2 A", True),
        ("isc", "0 A", True),
        ("isc", "1 A", False),
    ],
)
def test_a_string_that_gives_nothing_is_open_and_not_dirty(key: str, weak: str, dark: bool) -> None:
    plan = read(
        f"at: string-1, {key}: 4.8 A, taken: noon, {EXACT}",
        f"at: string-2, {key}: {weak}, taken: noon, {EXACT}",
        plan=strings(2),
    )
    (finding,) = found(plan, UNEQUAL)
    assert ("connector of it is open" in finding.message) is dark
    assert ("clean" in finding.remedy) is not dark


@pytest.mark.parametrize(
    ("strong", "weak", "stage", "level"),
    [
        ("4.5 A", "0.1 A", ", stage: bulk", "warning"),
        ("4.5 A", "0.1 A", "", "warning"),
        ("1.2 A", "0.1 A", ", stage: bulk", "warning"),
        ("1.2 A", "0.1 A", "", "note"),  # the battery may take no more
        ("1.2 A", "0.1 A", ", stage: float", None),
        ("4.5 A", "3.6 A", ", stage: absorption", None),
    ],
)
def test_near_open_circuit_strings_share_unevenly(
    strong: str, weak: str, stage: str, level: str | None
) -> None:
    """A hundredth more open voltage takes all of the little that a full battery leaves."""
    plan = read(
        f"at: string-1, current: {strong}, taken: noon{stage}, {EXACT}",
        f"at: string-2, current: {weak}, taken: noon{stage}, {EXACT}",
        plan=strings(2),
    )
    findings = found(plan, UNEQUAL)
    assert [f.level for f in findings] == ([level] if level else [])
    assert all(("nearly full" in f.message) is (level == "note") for f in findings)
