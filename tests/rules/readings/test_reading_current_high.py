"""Short-circuit current read against the most that the curve gives."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.readings.plans import FULL_SUN, read, strings

CURRENT_LOW = "reading-current-low"
CURRENT_HIGH = "reading-current-high"
EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"


@pytest.mark.parametrize(
    ("isc", "said", "ways"),
    [
        ("16 A", "as with 3 in parallel where the plan has 2", 0),
        ("11.5 A", "write `isc: 5.68 A` for `rigid-100`", 1),
        ("18.3 A", "another module is there", 0),
    ],
)
def test_more_strings_than_planned_are_recognised(isc: str, said: str, ways: int) -> None:
    plan = strings(2)
    (finding,) = found(read(f"at: tracker.pv, isc: {isc}, {FULL_SUN}", plan=plan), CURRENT_HIGH)
    assert said in f"{finding.message} {finding.remedy}"
    assert len(finding.ways) == ways


@pytest.mark.parametrize(("isc", "is_told"), [("6.8 A", False), ("6.9 A", True)])
def test_without_the_sun_a_current_over_any_sun_is_told(isc: str, is_told: bool) -> None:
    """1.25 × 5.2 A and the label's 5 % are 6.825 A."""
    assert bool(found(read(f"at: roof-string, isc: {isc}, {EXACT}"), CURRENT_HIGH)) is is_told


def test_the_value_of_the_remedy_settles_the_current() -> None:
    plan = read(f"at: roof-string, isc: 6.1 A, {FULL_SUN}")
    (finding,) = found(plan, CURRENT_HIGH)
    amps = re.search(r"write `isc: ([\d.]+ A)`", finding.remedy)
    assert amps
    settled = plan.replace("isc: 5.2 A", f"isc: {amps[1]}")
    assert not found(settled, CURRENT_HIGH)
    assert not found(settled, CURRENT_LOW)


@pytest.mark.parametrize(("mounting", "rule"), [("open-rack", None), ("roof-bonded", CURRENT_HIGH)])
def test_light_on_the_back_of_a_module_raises_its_current(mounting: str, rule: str | None) -> None:
    """80 % of 13.5 % of the light: 5.2 A and a tenth, where nothing covers the back."""
    plan = edited(
        ("max_system_voltage: 600 V}", "max_system_voltage: 600 V, bifaciality: 80 %}"),
        ("mounting: roof-gap", f"mounting: {mounting}"),
    )
    plan = read(f"at: roof-string, isc: 5.7 A, {FULL_SUN}", plan=plan)
    assert bool(found(plan, CURRENT_HIGH)) is (rule is not None)


@pytest.mark.parametrize(("other", "alike"), [("5.2 A", True), ("2.6 A", False)])
def test_strings_that_are_high_alike_point_to_the_irradiance(other: str, alike: bool) -> None:
    """5.2 A is what full sun gives, and half of it was written."""
    sun = f"irradiance: 500 W/m², back_temperature: 48 °C, {EXACT}"
    plan = read(
        f"at: string-1, isc: 5.2 A, {sun}", f"at: string-2, isc: {other}, {sun}", plan=strings(2)
    )
    first_ = next(f for f in found(plan, CURRENT_HIGH) if "string-1" in f.subjects)
    assert ("`string-2` read as high" in first_.message) is alike
    assert first_.remedy.startswith("hold the irradiance meter") is alike
