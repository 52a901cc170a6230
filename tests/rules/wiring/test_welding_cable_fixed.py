"""Welding cable as fixed wiring."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found, sound

WELDING = "welding-cable-fixed"


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
        plan=sound(WELDING),
    )  # fmt: skip
    [finding] = found(plan, WELDING)
    assert (finding.level, finding.subjects) == (level, ("charge-run",))
    assert "8 AWG" in finding.remedy
    assert not found(edited(("kind: welding", "kind: battery"), plan=plan), WELDING)
