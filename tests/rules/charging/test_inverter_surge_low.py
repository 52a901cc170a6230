"""The hardest start against the power that an inverter gives for some seconds."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

SURGE = "inverter-surge-low"


@pytest.mark.parametrize(("start", "expected"), [("1600 W", []), ("1601 W", ["warning"])])
def test_a_start_at_and_over_the_surge_power(start: str, expected: list[str]) -> None:
    plan = edited(("largest_start: 1400 W", f"largest_start: {start}"), plan=sound(SURGE))
    assert levels(plan, SURGE) == expected


def test_without_a_surge_power_it_gives_no_more_than_its_rating() -> None:
    plan = edited(("surge: 1600 W, ", ""), plan=sound(SURGE))
    [finding] = found(plan, SURGE)
    assert finding.verdict == "likely"
    assert "asks `mains` for 1400 W; 800 W is its most" in finding.message
    assert not found(edited((", largest_start: 1400 W", ""), plan=sound(SURGE)), SURGE)


def test_the_inverter_that_would_do_is_told_and_does() -> None:
    [finding] = found(faulty(SURGE), SURGE)
    assert "at least 2000 W" in finding.remedy
    assert not found(edited(("surge: 1600 W", "surge: 2000 W"), plan=faulty(SURGE)), SURGE)
