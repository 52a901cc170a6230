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


def test_an_arrester_of_another_system_voltage_holds_nothing() -> None:
    rule = "alternator-can-lose-battery"
    tie = "arresters:\n  surge: {across: alternator, voltage: 60 V}\nbonds:\n"
    held = edited(("bonds:\n", tie), plan=RULES.rules[rule].faulty.of(sound(rule)))
    assert len(found(held, rule)) == 1


def test_a_sole_battery_that_is_unplugged() -> None:
    rule = "alternator-can-lose-battery"
    plan = sound(rule, ("start: {chemistry: agm,", "start: {removable: true, chemistry: agm,"))
    [finding] = found(plan, rule)
    assert "`start` can be unplugged while `alternator` runs" in finding.message
