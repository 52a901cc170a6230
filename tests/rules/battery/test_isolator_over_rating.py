"""Diode isolators, by the current of their sources."""

from __future__ import annotations

import pytest

from rule_runs import found, sound

RULE = "isolator-over-rating"


@pytest.mark.parametrize(("rating", "count"), [("90 A", 0), ("89 A", 1)])
def test_the_whole_current_of_its_sources(rating: str, count: int) -> None:
    plan = sound(RULE, ("splitter: {rating: 120 A", f"splitter: {{rating: {rating}"))
    findings = found(plan, RULE)
    assert len(findings) == count
    assert all("rated at least 90 A" in finding.remedy for finding in findings)
