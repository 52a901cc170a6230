"""The cold voltage of modules that are plugged by hand against what may be touched."""

from __future__ import annotations

import pytest

from rule_runs import found_beside_all as found
from rule_runs import sound

TOUCH = "array-voltage-touchable"


@pytest.mark.parametrize(
    ("connector", "series", "portable", "fires"),
    [
        ("style: locking-pv,", 3, "true", False),
        ("style: flat-two-pin,", 3, "true", True),  # 82 V
        ("style: flat-two-pin,", 2, "true", True),  # 54.7 V, on wet ground
        ("style: flat-two-pin,", 1, "true", False),  # 27.3 V
        ("style: flat-two-pin,", 3, "false", False),  # on a roof
        ("", 3, "true", True),  # of no stated style
    ],
)
def test_touch(connector: str, series: int, portable: str, fires: bool) -> None:
    plan = sound(
        TOUCH,
        ("style: locking-pv,", connector),
        ("series: 3", f"series: {series}"),
        ("portable: true", f"portable: {portable}"),
    )
    findings = found(plan, TOUCH)
    assert [f.level for f in findings] == (["note"] if fires else [])
    for finding in findings:
        assert finding.values[0].number == pytest.approx(series * 24.3 * (1 + 0.0029 * 43))
        assert "above 30 V no contact may be within reach where it is wet" in finding.message
        assert "at most 1 in series" in finding.remedy


def test_above_120_v_a_warning_stands_in_its_place() -> None:
    plan = sound(TOUCH, ("style: locking-pv,", ""), ("series: 3", "series: 5"))  # 136.6 V
    assert not found(plan, TOUCH)
    assert [f.level for f in found(plan, "array-voltage-shock")] == ["warning"]
