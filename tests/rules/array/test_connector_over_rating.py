"""Current of a string against the rating of the connectors on its modules."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, faulty, found, levels, sound

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


@pytest.mark.parametrize(
    ("connector", "amps", "asks"),
    [
        ("{style: locking-pv}", "15.9 A", False),  # 19.9 A in bright sun
        ("{style: locking-pv}", "16.1 A", True),
        ("{make: A}", "16.1 A", True),
        ("{style: flat-two-pin}", "7.9 A", False),  # made for lamps: 10 A
        ("{style: flat-two-pin}", "8.1 A", True),
        ("{style: flat-two-pin, rating: 15 A}", "8.1 A", False),
    ],
)
def test_an_untold_rating_is_asked_where_the_smallest_carry_less(
    connector: str, amps: str, asks: bool
) -> None:
    plan = sound(OVER)
    plan = edited(("isc: 5.2 A", f"isc: {amps}"), ("imp: 4.9 A", "imp: 7.5 A"), plan=plan)
    plan = edited(("{style: locking-pv, rating: 30 A}", connector), plan=plan)
    assert not found(plan, OVER)
    assert asked(plan, OVER) == (["not told"] if asks else [])
