"""Whether an alternator can lose its battery while it runs."""

from __future__ import annotations

from plans import edited
from rule_runs import RULES, found, sound


def test_an_alternator_may_lose_its_battery_with_an_arrester() -> None:
    rule = "alternator-can-lose-battery"
    faulty = RULES.rules[rule].faulty.of(sound(rule))
    assert len(found(faulty, rule)) == 1
    held = edited(
        ("bonds:\n", "arresters:\n  surge: {across: alternator, voltage: 16 V}\nbonds:\n"),
        plan=faulty,
    )
    assert not found(held, rule)
