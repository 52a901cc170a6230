"""What opens while an engine is cranked."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, faulty, found, levels, sound

CUT = "cranking-cut-short"


def test_a_fuse_of_less_than_half_the_current() -> None:
    [finding] = found(faulty(CUT), CUT)
    assert (finding.level, finding.subjects) == ("warning", ("crank-fuse", "engine-starter"))
    assert "draws 200 A through `crank-fuse` (80 A), which opens above some 160 A" in (
        finding.message
    )
    assert "at least 100 A" in finding.remedy
    assert not found(sound(CUT), CUT)


@pytest.mark.parametrize(("amps", "expected"), [("100 A", []), ("99 A", ["warning"])])
def test_at_the_limit(amps: str, expected: list[str]) -> None:
    plan = edited(("crank-fuse: {rating: 80 A", f"crank-fuse: {{rating: {amps}"), plan=faulty(CUT))
    assert levels(plan, CUT) == expected


@pytest.mark.parametrize(
    ("limit", "expected"),
    [
        ("max_discharge_current: 120 A", ["warning"]),  # 280 A against some 240 A
        ("max_discharge_current: 140 A", []),
    ],
)
def test_the_management_of_a_lithium_battery(limit: str, expected: list[str]) -> None:
    plan = edited(
        ("cranking: {from: start, to: starter", "cranking: {from: house, to: starter"),
        ("max_discharge_current: 120 A", limit),
        plan=build("boat-lithium-behind-charger"),
    )
    assert levels(plan, CUT) == expected


def test_lead_gives_what_it_has() -> None:
    assert not found(build("boat-relay-and-bilge-pump"), CUT)


@pytest.mark.parametrize(("limit", "expected"), [("150 A", []), ("149 A", ["warning"])])
def test_each_battery_that_a_selector_leads_to_the_starter(limit: str, expected: list[str]) -> None:
    """300 A from the second, which gives twice its limit, though the first is as near."""
    lithium = f"lithium-iron-phosphate, nominal: 12.8 V, max_discharge_current: {limit}, capacity"
    old = "second: {chemistry: flooded, nominal: 12 V, capacity"
    plan = edited((old, f"second: {{chemistry: {lithium}"), plan=build("boat-selector-and-starter"))
    findings = found(plan, CUT)
    assert [finding.level for finding in findings] == expected
    assert all(finding.subjects == ("second", "starter") for finding in findings)


@pytest.mark.parametrize(("capacity", "expected"), [("15 Ah", []), ("14.9 Ah", ["warning"])])
def test_more_than_any_lead_battery_of_its_capacity_gives(
    capacity: str, expected: list[str]
) -> None:
    """300 A are twenty times 15 Ah in an hour."""
    plan = build("boat-selector-and-starter").replace("capacity: 110 Ah", f"capacity: {capacity}")
    findings = found(plan, CUT)
    assert [finding.level for finding in findings] == expected
    assert all("of 14.9 Ah; no lead battery" in finding.message for finding in findings)
