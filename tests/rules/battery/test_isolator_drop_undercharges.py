"""Batteries behind a diode isolator, by what it leaves of the charge voltage."""

from __future__ import annotations

from plans import edited
from rule_runs import RULES, found, sound


def test_a_diode_that_is_sensed_or_loses_nothing() -> None:
    rule = "isolator-drop-undercharges"
    faulty = RULES.rules[rule].faulty.of(sound(rule))
    [finding] = found(faulty, rule)
    assert "which gets 13.7 V" in finding.message
    assert not found(edited(("rating: 120 A,", "rating: 120 A, drop: 0.05 V,"), plan=faulty), rule)
