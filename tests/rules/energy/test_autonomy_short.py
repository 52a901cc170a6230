"""How long a bank lasts without sun."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, faulty, found, levels, sound
from wattproof.engine import check
from wattproof.packs import RuleSet
from wattproof.settings import of_call
from wattproof.testing import A_DAY, study_of

AUTONOMY = "autonomy-short"


@pytest.mark.parametrize(("capacity", "expected"), [("36.1 Ah", []), ("36 Ah", ["note"])])
def test_days_without_sun(capacity: str, expected: list[str]) -> None:
    plan = edited(("capacity: 100 Ah", f"capacity: {capacity}"), plan=sound(AUTONOMY))
    assert levels(plan, AUTONOMY) == expected


def test_autonomy_numbers_and_remedy() -> None:
    [finding] = found(faulty(AUTONOMY), AUTONOMY)
    assert finding.message == (
        "`house` gives 348 Wh from full, and 369 Wh a day are used in summer: it lasts 23 h "
        "without sun"
    )
    assert finding.margin == pytest.approx(348.16 / 369.216 - 1, abs=1e-3)
    assert "at least 37 Ah in place of 34 Ah" in finding.remedy
    mended = edited(("capacity: 34 Ah", "capacity: 37 Ah"), plan=faulty(AUTONOMY))
    assert not found(mended, AUTONOMY)


def test_days_are_an_option_and_lead_gives_half() -> None:
    rules = RuleSet({AUTONOMY: RULES.rules[AUTONOMY]})
    study = study_of(sound(AUTONOMY))
    three = of_call({AUTONOMY: {"days": 3.0}})
    asked = check(study, rules, file="plan.yaml", today=A_DAY, settings=three).result
    [finding] = asked.findings
    assert "at least 109 Ah" in finding.remedy  # 3 × 369 Wh / (12.8 V × 0.8) = 108.2 Ah
    lead = sound(AUTONOMY).replace("lithium-iron-phosphate, nominal: 12.8", "agm, nominal: 12.8")
    assert found(edited(("capacity: 100 Ah", "capacity: 57 Ah"), plan=lead), AUTONOMY)
    assert not found(edited(("capacity: 100 Ah", "capacity: 58 Ah"), plan=lead), AUTONOMY)
