"""All that draws from a lead bank against its capacity."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

HARD = "lead-drawn-too-hard"


@pytest.mark.parametrize(("capacity", "expected"), [("324 Ah", []), ("323 Ah", ["note"])])
def test_a_quarter_of_the_capacity(capacity: str, expected: list[str]) -> None:
    """800 W / (0.9 × 11 V) = 80.81 A, four times of which is 323.2 Ah."""
    plan = edited(("capacity: 400 Ah", f"capacity: {capacity}"), plan=sound(HARD))
    assert levels(plan, HARD) == expected


def test_the_bank_that_would_do_is_told_and_does() -> None:
    [finding] = found(faulty(HARD), HARD)
    assert "80.8 A is drawn from `house`" in finding.message
    assert "at least 330 Ah" in finding.remedy
    assert not found(edited(("capacity: 200 Ah", "capacity: 330 Ah"), plan=faulty(HARD)), HARD)


def test_lithium_is_not_drawn_too_hard() -> None:
    plan = edited(
        ("chemistry: agm, nominal: 12 V", "chemistry: lithium-iron-phosphate, nominal: 12.8 V"),
        plan=faulty(HARD),
    )
    assert not found(plan, HARD)


def test_of_batteries_in_series_all_become_larger() -> None:
    pack = "{chemistry: agm, nominal: 6 V, capacity: 200 Ah}"
    text = faulty(HARD)
    start, end = text.index("  house:"), text.index("busbars:")
    series = edited(
        ("from: house, to: bar,", "from: house.positive, to: bar.positive,"),
        plan=text[:start] + f"  house: {pack}\n  lower: {pack}\n" + text[end:],
    ) + (
        "  link: {from: house.negative, to: lower.positive, cable: bank-1-0, length: 20 cm}\n"
        "  back: {from: lower.negative, to: bar.negative, cable: bank-1-0, length: 60 cm}\n"
    )
    [finding] = found(series, HARD)
    assert [(c.component, c.key, c.text) for way in finding.ways for c in way] == [
        ("house", "capacity", "330 Ah"),
        ("lower", "capacity", "330 Ah"),
    ]
