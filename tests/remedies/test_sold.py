"""Ratings that a remedy writes are those that such parts are sold with."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound
from wattproof.plan.amend import Change


@pytest.mark.parametrize(("carried", "written"), [("5 A", "10 A"), ("6.2 A", "15 A")])
def test_a_panel_is_proposed_as_it_is_sold(carried: str, written: str) -> None:
    """It carries 4 A more: 9 A and 10.2 A."""
    rule = "panel-over-rating"
    plan = edited(("fridge: {current: 5 A", f"fridge: {{current: {carried}"), plan=faulty(rule))
    [finding] = found(plan, rule, tried=True)
    assert finding.ways[0] == (Change("panel", "rating", written),)
    assert finding.trials[0].clears


def test_a_fuse_keeps_the_rating_that_the_body_of_rules_has() -> None:
    rule = "panel-over-rating"
    plan = edited(
        ("rating: 60 A\n    voltage: 60 V", "rating: 24 A\n    voltage: 60 V"), plan=sound(rule)
    )
    [finding] = found(plan, rule)
    assert finding.ways[0] == (Change("panel-fuse", "rating", "20 A"),)
