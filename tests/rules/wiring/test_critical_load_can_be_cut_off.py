"""Loads that endanger when they stop, behind switches that stop them."""

from __future__ import annotations

from plans import edited
from rule_runs import found, sound


def test_a_critical_load_behind_a_switch_that_opens_by_itself() -> None:
    plan = sound("low-voltage-switch-odd")
    rule = "critical-load-can-be-cut-off"
    assert not found(plan, rule)
    critical = edited(("lamp: {current: 2 A}", "lamp: {current: 2 A, critical: true}"), plan=plan)
    [finding] = found(critical, rule)
    assert finding.message == "`lamp` must not stop, and stops when `low-off` opens by itself"
