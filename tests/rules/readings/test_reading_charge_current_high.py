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
    plan = read(text).replace("max_output_current: 20 A", "max_output_current: 40 A")
    if "at: house" in text:  # what charges it gives more than it takes
        plan = plan.replace("max_output_current: 40 A", "max_output_current: 100 A")
    findings = found(plan, HIGH)
    assert len(findings) == bool(says)
    assert all(says in finding.message for finding in findings)


@pytest.mark.parametrize(
    ("amps", "second", "says"),
    [
        ("20 A", "", ""),
        ("21 A", "", "20 A is the most that `tracker` gives"),
        ("21 A", "{kind: shore, max_output_current: 10 A}", ""),
        (
            "31 A",
            "{kind: shore, max_output_current: 10 A}",
            "30 A is the most that `tracker` and `shore` give together",
        ),
        ("31 A", "{kind: alternator, max_output_current: 10 A}", ""),  # more when it is cold
        ("51 A", "", "the most that `house` takes"),
    ],
)
def test_more_than_all_sources_give(amps: str, second: str, says: str) -> None:
    plan = read(f"at: house, voltage: 13.9 V, current: {amps}, {EXACT}")
    if second:
        wire = "  shore-run: {from: shore, to: house, cable: batt-8, length: 2 m, place: cabin}\n"
        plan = plan.replace("wires:\n", f"chargers:\n  shore: {second}\nwires:\n{wire}")
    findings = found(plan, HIGH)
    assert [says in finding.message for finding in findings] == [True] * bool(says)
