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
        ("style: flat-two-pin,", 2, "true", False),  # 54.7 V
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
        assert finding.values[0].number == pytest.approx(3 * 24.3 * (1 + 0.0029 * 43))
        assert "at most 2 in series" in finding.remedy
