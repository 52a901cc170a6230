"""All that charges a lead battery, against what it needs to be stirred and filled."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

SMALL = "charge-current-too-small"


@pytest.mark.parametrize(("capacity", "expected"), [("833 Ah", []), ("834 Ah", ["note"])])
def test_three_amperes_for_each_hundred_ampere_hours(capacity: str, expected: list[str]) -> None:
    """3 × 20.4 V × 4.9 A / 12 V = 25 A, which is 3 % of 833 Ah."""
    plan = edited(("capacity: 200 Ah", f"capacity: {capacity}"), plan=sound(SMALL))
    assert levels(plan, SMALL) == expected


def test_the_least_charge_is_told() -> None:
    [finding] = found(faulty(SMALL), SMALL)
    assert finding.message == (
        "`house` is charged with 25 A in all; at 1000 Ah it needs at least 30 A"
    )
    assert "at least 30 A" in finding.remedy
    assert finding.margin == pytest.approx(24.99 / 30 - 1)


def test_lithium_and_banks_that_an_engine_charges_are_exempt() -> None:
    lithium = edited(
        ("chemistry: agm, nominal: 12 V", "chemistry: lithium-iron-phosphate, nominal: 12.8 V"),
        plan=faulty(SMALL),
    )
    assert not found(lithium, SMALL)
    engine = edited(
        ("wires:\n", "chargers:\n  alternator: {kind: alternator, max_output_current: 90 A}\n"
         "wires:\n  alternator-run: {from: alternator, to: house, cable: batt-8, length: 1 m}\n"),
        plan=faulty(SMALL),
    )  # fmt: skip
    assert not found(engine, SMALL)
