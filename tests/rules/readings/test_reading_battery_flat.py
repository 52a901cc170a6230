"""Voltage read at the posts of a battery against that which harms it."""

from __future__ import annotations

import pytest

from rule_runs import found_beside_all as found
from rules.readings.plans import read

FLAT = "reading-battery-flat"
EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("at: house, voltage: 10.1 V", 0),
        (f"at: house, voltage: 10.0 V, {EXACT}", 0),
        (f"at: house, voltage: 9.9 V, {EXACT}", 1),
        ("at: house, voltage: 9.1 V", 1),
        ("at: house, voltage: -9.1 V", 0),  # the poles, which is said elsewhere
        ("at: tracker.battery, voltage: 9.2 V, posts_voltage: 9.1 V", 1),
        ("at: tracker.battery, voltage: 9.2 V", 0),  # not at the posts
    ],
)
def test_posts_below_what_harms_lithium(text: str, count: int) -> None:
    """2.5 V for each of four cells."""
    assert [f.level for f in found(read(text), FLAT)].count("warning") == count


@pytest.mark.parametrize(
    ("volts", "level"),
    [("11.6 V", None), ("11.3 V", "note"), ("10.2 V", "note"), ("9.7 V", "warning")],
)
def test_empty_is_told_before_harm(volts: str, level: str | None) -> None:
    """Lithium iron phosphate of 12.8 V is empty at 11.5 V and harmed below 10 V."""
    findings = found(read(f"at: house, voltage: {volts}"), "reading-battery-flat")
    assert [finding.level for finding in findings] == ([level] if level else [])
    if level == "note":
        assert "it is empty below 11.5 V" in findings[0].message
        assert findings[0].caution is None or findings[0].caution.text


def test_millivolts_that_were_volts() -> None:
    (finding,) = found(read("at: house, voltage: 13.3 mV"), FLAT)
    assert finding.level == "note"
    assert "; 13.3 V would be right, so the unit or the range was misread" in finding.message
