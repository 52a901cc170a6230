"""The current through a busbar against what it is rated for."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found
from rules.wiring.plans import BANK
from wattproof.testing import check_text

BAR = "busbar-over-rating"


@pytest.mark.parametrize(
    ("rating", "level"),
    [
        ("80.9 A", None),  # 800 W / (0.9 × 11 V) = 80.8 A
        ("80.7 A", "error"),
        ("40 A", "error"),
    ],
)
def test_a_bar_that_feeds_an_inverter(rating: str, level: str | None) -> None:
    plan = edited(("main-bar: {rating: 150 A", f"main-bar: {{rating: {rating}"), plan=BANK)
    findings = found(plan, BAR)
    assert [f.level for f in findings] == ([level] if level else [])
    if level:
        assert "80.8 A passes through `main-bar`, most of it by `bank-run`" in findings[0].message
        assert "rated at least 150 A" in findings[0].remedy  # what `bank-fuse` lets through


def test_in_the_middle_a_smaller_bar_would_do() -> None:
    """Two inverters of 400 W, 40.4 A each: 80.8 A through the bar, half of it on each side."""
    two = edited(
        ("  mains: {power: 800 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}\n",
         "  mains: {power: 400 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}\n"
         "  other: {power: 400 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}\n"),
        ("wires:\n", "wires:\n  other-run: {from: main-bar, to: other, cable: batt-1-0, "
         "length: 0.6 m, place: cabin}\n"),
        ("main-bar: {rating: 150 A", "main-bar: {rating: RATING"),
        plan=BANK,
    )  # fmt: skip
    [finding] = found(two.replace("RATING", "50 A"), BAR)
    assert finding.level == "error"  # `bank-fuse` lets 150 A through it, in any order
    assert "in the middle" not in finding.remedy
    small = edited(("bank-fuse: {rating: 150 A", "bank-fuse: {rating: 50 A"), plan=two)
    [finding] = found(small.replace("RATING", "50 A"), BAR)
    assert finding.level == "warning"
    assert "join `bank-run` in the middle" in finding.remedy
    [finding] = found(two.replace("RATING", "40 A"), BAR)
    assert finding.level == "error"
    assert not found(two.replace("RATING", "81 A"), BAR)


def test_what_charges_counts_as_what_draws_and_they_are_not_added() -> None:
    plan = edited(
        ("wires:\n", "chargers:\n  shore: {kind: shore, max_output_current: 60 A}\nwires:\n  "
         "shore-run: {from: shore, to: main-bar, cable: batt-1-0, length: 1 m, place: cabin}\n"),
        ("main-bar: {rating: 150 A", "main-bar: {rating: 89 A"),
        plan=BANK,
    )  # fmt: skip
    [finding] = found(plan, BAR)
    assert finding.message.startswith("90 A passes through")


def test_a_bar_without_a_rating_is_silent() -> None:
    assert not found(edited(("{rating: 150 A, voltage: 48 V}", "{voltage: 48 V}"), plan=BANK), BAR)


def test_a_bar_that_joins_strings() -> None:
    plan = edited(
        ("  roof-string: {module: rigid-100, series: 3, mounting: roof-gap, place: roof}\n",
         "  port: {module: rigid-100, series: 3, mounting: roof-gap}\n"
         "  star: {module: rigid-100, series: 3, mounting: roof-gap}\n"),
        ("busbars:\n", "busbars:\n  roof-bar: {rating: 12 A}\n"),
        ("from: roof-string,", "from: roof-bar,"),
        ("wires:\n", "wires:\n  port-lead: {from: port, to: roof-bar, cable: pv-10, length: 1 m}\n"
         "  star-lead: {from: star, to: roof-bar, cable: pv-10, length: 1 m}\n"),
        plan=BANK,
    )  # fmt: skip
    [finding] = found(plan, BAR)
    assert finding.message.startswith("13 A passes through `roof-bar`")  # 2 × 1.25 × 5.2 A


@pytest.mark.parametrize(
    ("watts", "rating", "asks"),
    [
        ("2500 W", "", True),
        ("2500 W", "rating: unknown", True),
        ("2500 W", "rating: open", False),  # it is still to be chosen
        ("900 W", "", False),  # 82 A: any bar with studs carries that
    ],
)
def test_a_bar_of_which_no_rating_is_told(watts: str, rating: str, asks: bool) -> None:
    text = f"""
wattproof: 1
setting: boat
datasheets: {{cables: {{thick: {{size: 4/0 AWG, kind: marine}}}}}}
batteries: {{bank: {{chemistry: LFP, nominal: 12.8 V, capacity: 400 Ah}}}}
busbars: {{bar: {{{rating}}}}}
fuses: {{main: {{rating: 300 A, style: class-t}}}}
inverters: {{mains: {{power: {watts}, nominal: 12 V}}}}
wires:
  run: {{from: bank, to: bar, cable: thick, length: 1 m, inline: [{{main: {{from_end: from}}}}]}}
  out: {{from: bar, to: mains, cable: thick, length: 1 m}}
"""
    result = check_text(text)
    assert BAR not in {f.rule for f in result.each}
    assert asks is any(d.rule == BAR for q in result.questions for d in q.decides)
