"""Power on a label against the sun that falls on a module of its size."""

from __future__ import annotations

import pytest

from rule_runs import faulty, found, sound

DENSE = "module-power-per-area-odd"


def test_more_than_any_module_gives() -> None:
    [finding] = found(faulty(DENSE), DENSE)
    assert (finding.level, finding.subjects[0]) == ("warning", "roof-string")
    assert "promises 100 W from 0.3 m², which is 333 W/m²" in finding.message
    assert "count on 75 W at most" in finding.remedy


@pytest.mark.parametrize(
    ("area", "level"),
    [
        ("0.4 m²", None),  # 250 W/m²
        ("0.39 m²", "warning"),
        ("4.4 ft²", None),
        ("1.6 m²", None),
        ("1.7 m²", "note"),  # 59 W/m²
        ("1.7 m², technology: thin-film", None),
    ],
)
def test_by_area(area: str, level: str | None) -> None:
    plan = sound(DENSE, ("area: 0.5 m²", f"area: {area}"))
    assert [finding.level for finding in found(plan, DENSE)] == ([level] if level else [])
