"""Welding cable as fixed wiring."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, found

COOL = "insulation-too-cool"
OUTDOORS = "cable-not-for-outdoors"
WELDING = "welding-cable-fixed"
METAL = "aluminium-conductor"
PARALLEL = "paralleled-small-wires"
NEGATIVE = "negative-smaller-than-positive"
CHASSIS = "chassis-as-return"
ALL = (COOL, OUTDOORS, WELDING, METAL, PARALLEL, NEGATIVE, CHASSIS)
PLAN = {rule: RULES.rules[rule].sound for rule in ALL}


@pytest.mark.parametrize(
    ("setting", "code", "level"),
    [
        ("boat", "abyc-e11", "warning"),
        ("cabin", "nec-2023", "warning"),
        ("vehicle", "nec-2023", "note"),
        ("vehicle", "as-nzs-3001", "note"),
        ("vehicle", "iso-13297", "warning"),  # marine rules have no other setting in mind
    ],
)
def test_welding_cable(setting: str, code: str, level: str) -> None:
    plan = edited(
        ("setting: boat", f"setting: {setting}"), ("kind: marine", "kind: welding"),
        ("code: abyc-e11", f"code: {code}"),
        plan=PLAN[WELDING],
    )  # fmt: skip
    [finding] = found(plan, WELDING)
    assert (finding.level, finding.subjects) == (level, ("charge-run",))
    assert "8 AWG" in finding.remedy
    assert not found(edited(("kind: welding", "kind: battery"), plan=plan), WELDING)
