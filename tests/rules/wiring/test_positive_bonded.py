"""Positives that are tied to the chassis, the water or the earth."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound
from rules.wiring.plans import bonded

POSITIVE = "positive-bonded"


def test_a_positive_at_the_chassis() -> None:
    [finding] = found(faulty(POSITIVE), POSITIVE)
    assert finding.level == "error"
    assert finding.message == "`chassis-bond` ties the positive of `house` to the chassis"
    assert finding.remedy == "tie the negative to the chassis instead of the positive"


@pytest.mark.parametrize(("ground", "level"), [("water", "error"), ("earth", "warning")])
def test_a_positive_at_another_ground(ground: str, level: str) -> None:
    plan = edited(("to: chassis, cable: bond-8", f"to: {ground}, cable: bond-8"),
                  plan=faulty(POSITIVE))  # fmt: skip
    [finding] = found(plan, POSITIVE)
    assert finding.level == level


def test_a_wire_from_the_positive_to_the_chassis() -> None:
    strap = "  strap: {from: tracker.battery.positive, to: chassis, cable: batt-8, length: 1 m}\n"
    start, end = sound(POSITIVE).index("bonds:"), sound(POSITIVE).index("wires:")
    plan = sound(POSITIVE)[:start] + sound(POSITIVE)[end:]
    [finding] = found(edited(("wires:\n", f"wires:\n{strap}"), plan=plan), POSITIVE)
    assert finding.subjects == ("strap", "house")


def test_the_positive_of_an_array_whose_negative_is_the_bonded_one() -> None:
    plan = bonded("from: tracker.pv.positive, to: chassis, cable: bond-8")
    [finding] = found(plan, POSITIVE)
    assert finding.level == "warning"
    assert "that shorts the array" in finding.message
    said = edited(("blocks_reverse: true", "blocks_reverse: true, common: negative"), plan=plan)
    assert [f.level for f in found(said, POSITIVE)] == ["error"]
    apart = edited(("common: negative", "common: negative, isolated: true"), plan=said)
    assert not found(apart, POSITIVE)
    elsewhere = edited(("pv.positive, to: chassis", "pv.positive, to: earth"), plan=plan)
    [finding] = found(elsewhere, POSITIVE)
    assert finding.level == "warning"
    assert "a second tie, at any negative or by a fault, shorts the array" in finding.message


@pytest.mark.parametrize(
    ("said", "shorts"),
    [
        ("", "joins the two positives or the two negatives: that shorts the battery or the array"),
        (", common: negative", "joins the two negatives: that shorts the array"),
        (", common: positive", "joins the two positives: that shorts the battery"),
    ],
)
def test_whichever_pole_a_pulse_width_controller_shares(said: str, shorts: str) -> None:
    plan = edited(
        ("kind: mppt", "kind: pwm"),
        ("blocks_reverse: true", f"blocks_reverse: true{said}"),
        plan=bonded("from: tracker.pv.positive, to: chassis, cable: bond-8"),
    )
    [finding] = found(plan, POSITIVE)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert finding.message.endswith(shorts)
    apart = edited(("blocks_reverse: true", "isolated: true, blocks_reverse: true"), plan=plan)
    assert not found(apart, POSITIVE)
    elsewhere = edited(("pv.positive, to: chassis", "pv.positive, to: earth"), plan=plan)
    assert [f.level for f in found(elsewhere, POSITIVE)] == ["warning"]


def test_a_tracker_that_shares_the_positive_shorts_the_battery() -> None:
    plan = edited(
        ("blocks_reverse: true", "blocks_reverse: true, common: positive"),
        plan=bonded("from: tracker.pv.positive, to: chassis, cable: bond-8"),
    )
    [finding] = found(plan, POSITIVE)
    assert finding.level == "error"
    assert finding.message.endswith("joins the two positives: that shorts the battery")


def test_both_poles_at_one_ground_short_the_array_of_an_isolated_controller_too() -> None:
    plan = edited(
        ("blocks_reverse: true", "blocks_reverse: true, isolated: true"),
        ("bonds:\n", "bonds:\n  other: {from: tracker.pv.negative, to: earth}\n"),
        plan=bonded("from: tracker.pv.positive, to: earth, cable: bond-8"),
    )
    [finding] = found(plan, POSITIVE)
    assert finding.level == "error"
    assert finding.message.endswith("to the earth, as its negative is: that shorts the array")


def test_a_positive_that_is_tied_twice_is_told_once() -> None:
    plan = bonded("from: tracker.pv.positive, to: chassis, cable: bond-8")
    second = ("bonds:\n", "bonds:\n  second: {from: tracker.pv.positive, to: chassis}\n")
    [finding] = found(edited(second, plan=plan), POSITIVE)
    assert finding.level == "warning"


def test_both_poles_of_an_array_at_one_ground() -> None:
    plan = bonded("from: tracker.pv.positive, to: earth, cable: bond-8")
    both = edited(
        ("bonds:\n", "bonds:\n  other: {from: tracker.pv.negative, to: earth}\n"), plan=plan
    )
    [finding] = found(both, POSITIVE)
    assert finding.level == "error"
    assert finding.message.endswith("to the earth, as its negative is: that shorts the array")


@pytest.mark.parametrize(("end", "told"), [("positive", True), ("negative", False)])
def test_a_string_that_is_plugged_straight_into_a_joint(end: str, told: bool) -> None:
    strings = (
        "  port: {module: rigid-100, series: 3, mounting: roof-gap}\n"
        "  star: {module: rigid-100, series: 3, mounting: roof-gap}\n"
        "combiners: {joint: {joins: [port, star], rating: 30 A, voltage: 600 V}}\n"
    )
    plan = edited(
        ("  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}\n", strings),
        ("from: roof-string", "from: joint"),
        ("from: house.negative, to: chassis", f"from: port.{end}, to: earth"),
        plan=sound(POSITIVE),
    )
    assert bool(found(plan, POSITIVE)) is told
