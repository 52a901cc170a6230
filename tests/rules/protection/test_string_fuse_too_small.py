"""The rating of a string's fuse against the current of the string itself."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found
from rules.protection.plans import CHARGE, FUSED

SMALL = "string-fuse-too-small"


@pytest.mark.parametrize(
    ("code", "isc", "rating", "fires"),
    [
        ("nec-2023", "6.4 A", "10 A", False),  # at it: 1.5625 × 6.4 A = 10 A may be met
        ("nec-2023", "6.41 A", "10 A", True),
        ("iec", "6 A", "9 A", True),  # at it: 1.5 × 6 A must be exceeded
        ("iec", "6 A", "9.1 A", False),
        ("abyc-e11", "6 A", "9 A", True),
        ("iso-13297", "6 A", "9.1 A", False),
        ("as-nzs-3001", "6 A", "9 A", True),
        ("as-nzs-3001", "6 A", "9.1 A", False),
    ],
)
def test_lower_end_of_the_window(code: str, isc: str, rating: str, fires: bool) -> None:
    plan = edited(
        ("code: nec-2023", f"code: {code}"),
        ("isc: 6 A", f"isc: {isc}"),
        ("middle-fuse: {rating: 10 A", "middle-fuse: {rating: 15 A"),
        ("starboard-fuse: {rating: 10 A", "starboard-fuse: {rating: 15 A"),
        ("port-fuse: {rating: 15 A", f"port-fuse: {{rating: {rating}"),
        plan=FUSED,
    )
    findings = found(plan, SMALL)
    assert [f.subjects for f in findings] == ([("port-fuse", "port")] if fires else [])
    assert all(f.level == "warning" for f in findings)


def test_too_small_shows_numbers_margin_and_a_rating_that_passes() -> None:
    plan = edited(("port-fuse: {rating: 15 A", "port-fuse: {rating: 6 A"), plan=FUSED)
    [finding] = found(plan, SMALL)
    assert "`port-fuse` (6 A)" in finding.message
    assert "9.38 A" in finding.message
    assert finding.margin == pytest.approx(6 / 9.375 - 1)
    assert finding.remedy == "use a rating of 10 or 15 A"
    for rating in ("10 A", "15 A"):
        applied = edited(("port-fuse: {rating: 6 A", f"port-fuse: {{rating: {rating}"), plan=plan)
        assert not found(applied, SMALL)


def test_no_standard_rating_between_the_string_and_its_label() -> None:
    plan = edited(
        ("isc: 6 A", "isc: 7 A"),
        ("max_series_fuse: 15 A", "max_series_fuse: 12 A"),
        ("port-fuse: {rating: 15 A", "port-fuse: {rating: 10 A"),
        plan=FUSED,
    )
    findings = found(plan, SMALL)
    assert len(findings) == 3
    assert findings[0].remedy.startswith("no standard rating lies between 10.9 A and 12 A")


def test_a_breaker_in_both_poles_is_one_device() -> None:
    plan = edited(
        ("fuses:\n", "breakers:\n  array-breaker: {rating: 8 A, dc: true, poles: 2}\nfuses:\n"),
        ("inline: [pv-off]", "inline: [pv-off, array-breaker]"),
        plan=CHARGE,
    )  # fmt: skip
    [finding] = found(plan, SMALL)
    assert finding.subjects == ("array-breaker", "roof-string")  # 1.5625 × 5.2 A = 8.125 A
