"""Switches that a starter's current passes."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found

SMALL = "cranking-switch-small"


@pytest.mark.parametrize(("rating", "count"), [("67 A", 0), ("66 A", 1), ("300 A", 0)])
def test_three_times_the_rating_for_a_start(rating: str, count: int) -> None:
    """200 A: 3 times 67 A is enough, 3 times 66 A is not."""
    plan = edited(("rating: 50 A", f"rating: {rating}"), plan=faulty(SMALL))
    assert len(found(plan, SMALL)) == count


def test_what_it_says() -> None:
    [finding] = found(faulty(SMALL), SMALL)
    assert finding.message == (
        "`engine-starter` draws 200 A through `start-off`, which is rated 50 A and bears some "
        "150 A for a start"
    )
    assert "one of 67 A or more" in finding.remedy
