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
    assert not found(elsewhere, POSITIVE)
