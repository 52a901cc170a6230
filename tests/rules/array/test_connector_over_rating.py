"""Current of a string against the rating of the connectors on its modules."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

OVER = "connector-over-rating"


@pytest.mark.parametrize(("rating", "expected"), [("6.6 A", []), ("6.4 A", ["error"])])
def test_a_quarter_more_than_the_label(rating: str, expected: list[str]) -> None:
    """5.2 A and a quarter: 6.5 A."""
    plan = edited(("rating: 5 A}}", f"rating: {rating}}}}}"), plan=faulty(OVER))
    assert levels(plan, OVER) == expected


def test_what_it_says() -> None:
    [finding] = found(faulty(OVER), OVER)
    assert finding.message == (
        "the connectors of `rigid-100` are rated 5 A, and `roof-string` gives 6.5 A in bright sun"
    )
    assert "rated at least 7 A" in finding.remedy


def test_nothing_is_said_of_what_is_not_told() -> None:
    assert not found(edited((", rating: 30 A}", "}"), plan=sound(OVER)), OVER)
