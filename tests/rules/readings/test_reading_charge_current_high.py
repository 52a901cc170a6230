"""Charge current that was read, against the labels of battery and controller."""

from __future__ import annotations

import pytest

from rule_runs import found_beside_all as found
from rules.readings.plans import read

HIGH = "reading-charge-current-high"
EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (f"at: house, voltage: 13.9 V, current: 50 A, {EXACT}", ""),
        (f"at: house, voltage: 13.9 V, current: 51 A, {EXACT}", "the most that `house` takes"),
        ("at: house, voltage: 12.9 V, current: 80 A", ""),  # it is drawn from
        ("at: house, voltage: 13.9 V, current: -80 A", ""),
        (f"at: tracker.battery, voltage: 13.9 V, current: 41 A, {EXACT}", "that `tracker` gives"),
    ],
)
def test_what_flows_into_a_battery(text: str, says: str) -> None:
    findings = found(read(text), HIGH)
    assert len(findings) == bool(says)
    assert all(says in finding.message for finding in findings)
