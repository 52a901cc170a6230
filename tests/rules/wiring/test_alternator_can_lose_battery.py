"""Whether an alternator can lose its battery while it runs."""

from __future__ import annotations

from plans import edited
from rule_runs import RULES, asked, found, sound


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


def test_a_fuse_that_opens_below_what_the_alternator_gives() -> None:
    rule = "alternator-can-lose-battery"
    for rating, expected in (("90 A", 0), ("80 A", 1)):
        plan = sound(
            rule, ("alternator-fuse: {rating: 125 A", f"alternator-fuse: {{rating: {rating}")
        )
        seen = found(plan, rule)
        assert [f.subjects for f in seen] == [("alternator-fuse", "alternator")] * expected
    assert (
        "`alternator-fuse` (80 A) opens where `alternator` gives all of its 90 A" in seen[0].message
    )
    held = edited(
        ("max_output_current: 90 A", "max_output_current: 90 A, limited_to: 70 A"), plan=plan
    )
    assert not found(held, rule)


HOUSE = """
wattproof: 1
setting: vehicle
batteries: {house: {chemistry: lifepo4, capacity: 100 Ah}}
chargers: {alternator: {kind: alternator, max_output_current: 30 A}}
wires:
  line: {from: alternator, to: house}
"""
RULE = "alternator-can-lose-battery"


def test_the_vehicle_that_tows_has_a_battery_of_its_own() -> None:
    assert len(found(HOUSE, RULE)) == 1
    assert not found(HOUSE.replace("to: house}", "to: house, plug: trailer-7}"), RULE)
    assert len(found(HOUSE.replace("to: house}", "to: house, plug: genderless-50}"), RULE)) == 1


def test_it_is_asked_whether_there_is_one_where_only_a_part_is_told() -> None:
    partly = f"told: part\n{HOUSE.strip()}\n"
    assert not found(partly, RULE)
    assert asked(partly, RULE) == ["batteries not told"]
    started = "starters: {engine: {current: 200 A}}\n"  # whose battery is told as well
    assert len(found(partly + started, RULE)) == 1
    lead = partly.replace("lifepo4", "agm").replace("to: house}", "to: house, inline: off}")
    lead += "switches: {off: {rating: 100 A}}\n"
    assert len(found(lead, RULE)) == 1
