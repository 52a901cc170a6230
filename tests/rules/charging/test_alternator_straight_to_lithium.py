"""What a lithium bank takes from an alternator without a vehicle charger in between."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, faulty, found, levels, sound


def test_a_regulator_that_holds_an_alternator_back() -> None:
    plan = edited(("capacity: 100 Ah", "capacity: 400 Ah"), plan=build("boat-external-regulator"))
    rule = "alternator-straight-to-lithium"
    assert not found(plan, rule)
    hot = edited((", limited_to: 60 A", ""), ("\n               senses_heat: true,", ""), plan=plan)
    assert found(hot, rule)
    held = edited((", limited_to: 60 A", ", limited_to: 30 A"),
                  ("\n               senses_heat: true,", ""), plan=plan)  # fmt: skip
    assert not found(held, rule)


CHARGER = "alternator-overloaded"
STRAIGHT = "alternator-straight-to-lithium"


@pytest.mark.parametrize(("rating", "expected"), [("70 A", []), ("69 A", ["warning"])])
def test_thick_cables_let_in_what_lithium_takes(rating: str, expected: list[str]) -> None:
    """Through 4 mΩ 1 V drives far more than 0.35 × 100 Ah = 35 A."""
    plan = edited(("max_output_current: 100 A", f"max_output_current: {rating}"),
                  plan=sound(STRAIGHT))  # fmt: skip
    assert levels(plan, STRAIGHT) == expected


def test_straight_numbers_and_remedy() -> None:
    [finding] = found(faulty(STRAIGHT), STRAIGHT)
    assert finding.message == (
        "`house` takes about 35 A straight from `alternator`, 58.3 % of its 60 A, and 50 % is the "
        "most for long"
    )
    assert finding.margin == pytest.approx(1 - 35 / 60 / 0.5)
    assert "draws at most 30 A" in finding.remedy


def test_long_thin_cables_let_in_little() -> None:
    """20 m of 2.5 mm² at 7.98 Ω/km are 0.16 Ω: 1 V drives 6.2 A."""
    thin = edited(("size: 50 mm²", "size: 2.5 mm²"), ("length: 2 m", "length: 10 m"),
                  plan=faulty(STRAIGHT))  # fmt: skip
    assert not found(thin, STRAIGHT)
    [finding] = found(edited(("current: 60 A", "current: 12 A"), plan=thin), STRAIGHT)
    amps = next(v.number for v in finding.values if v.unit == "A")
    assert amps == pytest.approx(1 / (20 * 0.00798 + 13.4 / 3500), rel=1e-3)


def test_lead_and_a_vehicle_charger_are_silent() -> None:
    lead = faulty(STRAIGHT).replace("lithium-iron-phosphate, nominal: 12.8", "agm, nominal: 12")
    assert not found(lead, STRAIGHT)
    assert not found(faulty(CHARGER), STRAIGHT)
