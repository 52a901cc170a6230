"""The rating of a string's fuse against the largest that its modules stand."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, found, levels
from rules.protection.plans import CHARGE, FUSED

LARGE = "string-fuse-over-module"


@pytest.mark.parametrize(
    ("code", "rating", "level"),
    [
        ("nec-2023", "15 A", None),  # at the label
        ("nec-2023", "15.1 A", "note"),  # 1.25 × 2 × 6 A = 15 A: others cannot exceed the label
        ("iec", "14.3 A", None),
        ("iec", "14.4 A", "warning"),  # at 2.4 × 6 A, to be stayed under; the label allows it
        ("iec", "15.1 A", "warning"),
        ("as-nzs-3001", "14.3 A", None),
        ("as-nzs-3001", "14.4 A", "warning"),
    ],
)
def test_upper_end_of_the_window(code: str, rating: str, level: str | None) -> None:
    plan = edited(
        ("code: nec-2023", f"code: {code}"),
        ("port-fuse: {rating: 15 A", f"port-fuse: {{rating: {rating}"),
        plan=FUSED,
    )
    assert levels(plan, LARGE) == ([level] if level else [])


def test_over_the_label_where_others_can_push_more_than_it() -> None:
    plan = edited(
        ("max_series_fuse: 15 A", "max_series_fuse: 10 A"),
        ("port-fuse: {rating: 15 A", "port-fuse: {rating: 10 A"),
        ("middle-fuse: {rating: 10 A", "middle-fuse: {rating: 20 A"),
        plan=FUSED,
    )
    [finding] = found(plan, LARGE)
    assert finding.level == "error"
    assert "`middle-fuse` (20 A) is over the 10 A" in finding.message
    assert "15 A backwards" in finding.message  # 1.25 × 2 × 6 A
    assert finding.margin == pytest.approx(-1.0)
    assert finding.remedy == "use a rating of 10 A"
    applied = edited(("middle-fuse: {rating: 20 A", "middle-fuse: {rating: 10 A"), plan=plan)
    assert not found(applied, LARGE)


@pytest.mark.parametrize(("rating", "verdict"), [("20 A", "likely"), ("35 A", "certain")])
def test_over_an_assumed_label(rating: str, verdict: str) -> None:
    """15 A taken; 18.75 A can flow, less than the 30 A that a label might say."""
    plan = edited(
        ("isc: 6 A", "isc: 7.5 A"),
        (", max_series_fuse: 15 A", ""),
        ("port-fuse: {rating: 15 A", f"port-fuse: {{rating: {rating}"),
        plan=FUSED,
    )
    [finding] = found(plan, LARGE)
    assert (finding.level, finding.verdict) == ("warning", verdict)


def test_a_breaker_used_as_a_switch_for_a_single_string_is_no_string_fuse() -> None:
    plan = edited(
        (
            "fuses:\n",
            "breakers:\n  array-breaker: {rating: 32 A, voltage: 150 V, dc: true}\nfuses:\n",
        ),
        ("inline: [pv-off]", "inline: [pv-off, array-breaker]"),
        plan=CHARGE,
    )
    assert not found(plan, LARGE)


def test_a_large_fuse_in_the_other_pole_is_told_beside_one_that_fits() -> None:
    """Two faults to frames lead past the small one; the large one then guards nothing."""
    text = build("cabin-three-fused-strings")
    nec = ("code: iec", "code: nec-2023")  # 1.25 × 2 × 3.45 A = 8.6 A into modules of 8 A
    large = ("left-plus: {rating: 6 A", "left-plus: {rating: 25 A")
    [finding] = found(edited(nec, large, plan=text), LARGE)
    assert (finding.level, finding.subjects[0]) == ("warning", "left-plus")
    assert "only `left-minus` in the other pole opens in time" in finding.message
    assert not found(edited(nec, plan=text), LARGE)
    assert not found(edited(large, plan=text), LARGE)  # 6.9 A by IEC: no fuse is needed


@pytest.mark.parametrize(
    ("code", "label", "level"),
    [
        ("code: iec", "15 A", "warning"),
        ("code: abyc-e11", "15 A", "note"),  # it has no factor of its own
        ("", "15 A", "note"),
        ("", "", "warning"),  # taken as 15 A
    ],
)
def test_a_fuse_that_the_label_allows_is_a_note_where_no_factor_is_asked_for(
    code: str, label: str, level: str
) -> None:
    """14.4 A, at 2.4 × 6 A: the module was tested with its label's fuse."""
    told = f", max_series_fuse: {label}" if label else ""
    plan = edited(
        ("code: nec-2023\n", f"{code}\n"),
        ("setting: vehicle", "setting: vehicle" if "iec" in code else "setting: boat"),
        ("port-fuse: {rating: 15 A", "port-fuse: {rating: 14.4 A"),
        (", max_series_fuse: 15 A", told),
        plan=FUSED,
    )
    assert [f.level for f in found(plan, LARGE) if f.subjects[0] == "port-fuse"] == [level]
