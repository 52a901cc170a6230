"""Fuses on the array side that are not made for photovoltaic strings."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES
from rule_runs import found_beside_all as found

STYLE = "string-fuse-not-pv"
FUSED = RULES.rules[STYLE].sound


@pytest.mark.parametrize(
    ("fuse", "series", "level"),
    [
        ("voltage: 80 V, style: gpv", 2, None),
        ("voltage: 80 V, style: blade", 2, "warning"),
        ("voltage: 80 V, style: bolt-down", 2, "warning"),
        ("voltage: 250 V, style: glass", 2, "warning"),
        ("voltage: 125 V, style: class-t", 2, "warning"),
        ("voltage: 32 V, style: blade", 1, "note"),  # 27.3 V
        ("voltage: 32 V, style: blade", 2, None),  # its voltage has a finding of its own
        ("voltage: 80 V", 2, None),  # of no stated style
        ("style: glass", 2, "warning"),
    ],
)
def test_fuses_for_strings(fuse: str, series: int, level: str | None) -> None:
    plan = edited(
        ("voltage: 80 V, style: gpv", fuse), ("series: 2", f"series: {series}"), plan=FUSED
    )
    assert [f.level for f in found(plan, STYLE)] == ([level] if level else [])


def test_one_for_alternating_current_only_is_told_once() -> None:
    plan = edited(
        ("voltage: 80 V, style: gpv, dc: true", "voltage: 250 V, style: glass, dc: false"),
        plan=FUSED,
    )
    assert not found(plan, STYLE)
    assert found(plan, "device-not-for-dc")


def test_the_battery_side_may_have_any_style() -> None:
    assert not found(FUSED.replace("style: class-t", "style: stud-mounted"), STYLE)


def test_the_remedy_is_a_style_that_is_silent() -> None:
    plan = edited(("voltage: 80 V, style: gpv", "voltage: 80 V, style: blade"), plan=FUSED)
    (finding,) = found(plan, STYLE)
    assert "gPV) of 10 A" in finding.remedy
    assert not found(plan.replace("style: blade", "style: gpv"), STYLE)
