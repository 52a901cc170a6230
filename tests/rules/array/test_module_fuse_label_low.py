"""The maximum series fuse on a label against the module's own current."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found_beside_all as found

FUSE = "module-fuse-label-low"


@pytest.mark.parametrize(
    ("code", "amps", "fires"),
    [
        ("nec-2023", "8.125 A", False),  # at it: 1.5625 × 5.2 A
        ("nec-2023", "8 A", True),
        ("iec", "8 A", False),  # 1.5 × 5.2 A = 7.8 A
        ("iec", "7.8 A", False),
        ("iec", "7.7 A", True),
        ("abyc-e11", "7.7 A", True),
        ("iso-13297", "7.7 A", True),
        ("as-nzs-3001", "7.8 A", False),
        ("as-nzs-3001", "7.7 A", True),
    ],
)
def test_the_fuse_on_the_label(code: str, amps: str, fires: bool) -> None:
    plan = edited(
        ("max_series_fuse: 15 A", f"max_series_fuse: {amps}"), ("code: nec-2023", f"code: {code}")
    )
    assert [f.level for f in found(plan, FUSE)] == (["note"] if fires else [])
    for strings, level in ((2, "note"), (3, "warning")):
        beside = edited(("series: 3", f"arrangement: 3s{strings}p"), plan=plan)
        assert [f.level for f in found(beside, FUSE)] == ([level] if fires else [])


def test_how_many_may_stand_side_by_side_without_fuses() -> None:
    """1.25 × 5.2 A = 6.5 A from one neighbour: within 7 A; not within 6 A."""
    plan = edited(("max_series_fuse: 15 A", "max_series_fuse: 7 A"))
    (finding,) = found(plan, FUSE)
    assert finding.margin == pytest.approx(7 / 8.125 - 1)
    assert "at most 2 strings of it in parallel" in finding.remedy
    weaker = plan.replace("max_series_fuse: 7 A", "max_series_fuse: 6 A")
    (finding,) = found(weaker, FUSE)
    assert "in series only" in finding.remedy
    for text, level in ((plan, "note"), (weaker, "warning")):
        (finding,) = found(edited(("series: 3", "arrangement: 3s2p"), plan=text), FUSE)
        assert finding.level == level


def test_a_label_without_a_fuse_is_not_judged() -> None:
    assert not found(edited(("max_series_fuse: 15 A, ", "")), FUSE)


@pytest.mark.parametrize(("amps", "fires"), [("50 A", False), ("51 A", True), ("150 A", True)])
def test_a_fuse_that_no_module_stands(amps: str, fires: bool) -> None:
    findings = found(edited(("max_series_fuse: 15 A", f"max_series_fuse: {amps}")), FUSE)
    assert [f.level for f in findings] == (["warning"] if fires else [])
    assert all("no module bears that much backwards" in f.message for f in findings)
