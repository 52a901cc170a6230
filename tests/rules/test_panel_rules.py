"""Rules on panels and on fuses in a row: limits, what they guard, what is exempt."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, faulty, found, levels, sound
from wattproof.testing import check_examples, check_remedy

PANEL = "panel-over-rating"
ORDER = "main-fuse-opens-first"


@pytest.mark.parametrize("rule", [PANEL, ORDER])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# Panels.


def rated(amps: str, *edits: tuple[str, str]) -> str:
    return edited(
        ("rating: 60 A\n    voltage: 60 V", f"rating: {amps}\n    voltage: 60 V"),
        *edits,
        plan=sound(PANEL),
    )


@pytest.mark.parametrize(
    ("amps", "expected"),
    [("25 A", []), ("24 A", ["warning"]), ("9 A", ["warning"]), ("8.9 A", ["error"])],
)
def test_loads_of_9_amperes_and_fuses_of_25(amps: str, expected: list[str]) -> None:
    assert levels(rated(amps), PANEL) == expected


def test_a_device_before_it_that_is_no_larger_guards_it() -> None:
    [finding] = found(rated("24 A"), PANEL)
    assert "up to 25 A can flow in `panel` before anything opens" in finding.message
    assert finding.remedy == (
        "put a fuse or breaker of at most 24 A before `panel`, such as 20 A for `panel-fuse`"
    )
    check_remedy(finding)
    assert not found(
        rated("24 A", ("panel-fuse: {rating: 40 A", "panel-fuse: {rating: 20 A")), PANEL
    )


def test_the_loads_are_told_first() -> None:
    [finding] = found(faulty(PANEL), PANEL)
    assert finding.message == "the loads of `panel` draw 9 A together, and it is rated 8 A"
    assert finding.margin == pytest.approx(-0.125)


def test_without_a_rating_it_is_silent() -> None:
    assert not found(edited(("    rating: 8 A\n", ""), plan=faulty(PANEL)), PANEL)


# Order.


@pytest.mark.parametrize(("branch", "expected"), [("124 A", []), ("125 A", ["note"])])
def test_a_branch_under_and_at_the_main_one(branch: str, expected: list[str]) -> None:
    plan = edited(
        ("panel-fuse: {rating: 60 A", f"panel-fuse: {{rating: {branch}"), plan=sound(ORDER)
    )
    assert levels(plan, ORDER) == expected


def test_where_both_serve_the_same_the_order_is_the_same() -> None:
    plan = faulty(ORDER)
    for first, last in (("  inverter-run:", "  heater-run:"), ("inverters:\n", "loads:\n")):
        plan = plan[: plan.index(first)] + plan[plan.index(last) :]
    assert not found(plan, ORDER)


def test_two_packs_with_a_fuse_each_feed_a_larger_branch_together() -> None:
    second = (
        "  other: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah}\n"
        "busbars:\n"
    )
    plan = edited(
        ("busbars:\n", second),
        ("fuses:\n", "fuses:\n  other-fuse: {rating: 125 A, voltage: 125 V, style: class-t}\n"),
        plan=faulty(ORDER),
    )
    plan += (
        "  other-run: {from: other, to: bar, cable: bank-1-0, length: 60 cm,\n"
        "              inline: [{other-fuse: {from_end: from, distance: 10 cm}}]}\n"
    )
    assert not found(plan, ORDER)
