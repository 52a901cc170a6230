"""Fuses in a row of which the one for all opens before the one for a branch."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

ORDER = "main-fuse-opens-first"


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
