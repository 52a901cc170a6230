"""Rules on starters, isolators, selectors, converters, boxes, packs, heaters and their like."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import all_found, build, found


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("max_output_current: 40 A", "max_output_current: 120 A", "charge-current-over-battery"),
        ("max_output_current: 40 A, charge_voltage: 14.2 V",
         "max_output_current: 40 A, charge_voltage: 15.4 V", "charge-voltage-wrong"),
        ("power: 800 W", "power: 2000 W", "load-over-battery-discharge"),
        ("combi, cable: batt-2-0", "combi, cable: wire-12", "conductor-too-small"),
        ("combi, cable: batt-2-0, length: 1 m, place: cabin,\n              inline: "
         "[{combi-fuse: {from_end: from, distance: 0 cm}}]}",
         "combi, cable: batt-2-0, length: 1 m, place: cabin}", "battery-fuse-missing"),
    ],
)  # fmt: skip
def test_an_inverter_charger_is_both(old: str, new: str, rule: str) -> None:
    plan = build("vehicle-inverter-charger")
    assert rule not in all_found(plan)
    assert rule in all_found(edited((old, new), plan=plan))


def test_each_input_has_its_own_limit_and_all_share_the_output() -> None:
    plan = build("cabin-two-inputs")
    high = edited(("pv-2: {max_input_voltage: 80 V}", "pv-2: {max_input_voltage: 50 V}"), plan=plan)
    [finding] = found(high, "cold-voltage-over-controller")
    assert "tracker.pv-2" in finding.message or "east-string" in finding.subjects
    small = edited(("max_output_current: 30 A", "max_output_current: 9 A"), plan=plan)
    [finding] = found(small, "controller-clips")


def test_a_box_stands_volts_and_amperes_and_takes_watts() -> None:
    plan = build("portable-box-nec-2023")
    for old, new, rule in (
        ("max_input_voltage: 60 V", "max_input_voltage: 50 V", "cold-voltage-over-controller"),
        ("max_input_current: 12 A", "max_input_current: 5 A", "controller-input-over-current"),
        ("max_input_power: 220 W", "max_input_power: 80 W", "controller-clips"),
        ("load_current: 10 A", "load_current: 1 A", "load-port-over-rating"),
    ):
        assert not found(plan, rule)
        assert found(edited((old, new), plan=plan), rule), rule


def test_what_notices_arcs_is_not_asked_for_again() -> None:
    plan = build("cabin-arc-device")
    assert not found(plan, "arc-protection-missing")
    bare = edited(
        (
            "arc_fault_devices:\n  arc-guard: {rating: 20 A, voltage: 600 V, dc: true, poles: 2}\n",
            "",
        ),
        ("inline: [arc-guard, pv-off]", "inline: [pv-off]"),
        plan=plan,
    )
    [asked] = found(bare, "arc-protection-missing")
    assert "protection against arcs" in asked.message
