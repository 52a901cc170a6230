"""Modules without bypass diodes in series with others."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, sound
from rule_runs import found_beside_all as found
from wattproof.study.array.series import in_series_with
from wattproof.testing import study_of

BYPASS = "bypass-diode-missing"
PORTABLE = "portable-joined-to-roof"


@pytest.mark.parametrize(
    ("diodes", "series", "level"),
    [
        ("0", 1, None),
        ("0", 2, "warning"),
        ("0", 3, "error"),
        ("1", 3, None),
    ],
)
def test_bypass_diodes(diodes: str, series: int, level: str | None) -> None:
    plan = sound(
        BYPASS, ("bypass_diodes: 2", f"bypass_diodes: {diodes}"), ("series: 2", f"series: {series}")
    )
    findings = found(plan, BYPASS)
    assert [f.level for f in findings] == ([level] if level else [])
    if level:
        assert f"{series} are in series: a shaded cell" in findings[0].message
        assert f"up to {series * 24.3:.1f} V backwards" in findings[0].message


def test_bypass_diodes_that_are_not_stated_are_not_asked_for() -> None:
    assert not found(sound(BYPASS, (" bypass_diodes: 2,", "")), BYPASS)


def test_modules_in_series_are_counted_through_wires_and_groups() -> None:
    plan = RULES.rules[PORTABLE].sound
    (array,) = study_of(plan).array.arrays
    assert [(s.name, n) for s, n in in_series_with(array)] == [
        ("roof-string", 2),
        ("rear-string", 2),
    ]
    bare = edited(("max_series_fuse: 15 A", "bypass_diodes: 0, max_series_fuse: 15 A"), plan=plan)
    assert [f.subjects for f in found(bare, BYPASS)] == [
        ("rear-string", "rigid-100"),
        ("roof-string", "rigid-100"),
    ]
    parallel = edited(("series: 2", "arrangement: 1s3p"), plan=sound(BYPASS))
    assert not found(parallel.replace("bypass_diodes: 2", "bypass_diodes: 0"), BYPASS)
