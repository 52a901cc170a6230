"""How often a negative is tied to the chassis or the water."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound
from rules.wiring.plans import bonded

TWICE = "negative-bonded-twice"
ENGINE = "chargers: {alternator: {kind: alternator, max_output_current: 90 A}}"


def test_two_ties_are_a_warning_and_on_a_boat_an_error() -> None:
    [finding] = found(faulty(TWICE), TWICE)
    assert finding.level == "warning"
    assert finding.message == (
        "the negative of `house` is tied to ground in 2 places, by `chassis-bond` and `rear-bond`"
    )
    assert finding.remedy == "keep one tie, for example `chassis-bond`, and take away `rear-bond`"
    [at_sea] = found(
        bonded("from: house.negative, to: water, cable: bond-8", setting="boat"), TWICE
    )
    assert at_sea.level == "error"


def test_one_tie_or_none_and_a_tie_to_earth_are_silent() -> None:
    assert not found(bonded(), TWICE)
    assert not found(sound("charge-voltage-wrong"), TWICE)
    assert not found(bonded("from: house.negative, to: earth, cable: bond-8"), TWICE)


def test_from_another_point_of_the_same_negative() -> None:
    plan = bonded("from: tracker.battery.negative, to: chassis, cable: bond-8")
    assert len(found(plan, TWICE)) == 1


def test_the_negative_of_the_array_is_the_banks_where_a_tracker_joins_them() -> None:
    """The array's negative is the bank's in trackers that do not tell; not in isolated ones."""
    plan = bonded("from: tracker.pv.negative, to: chassis, cable: bond-8")
    [finding] = found(plan, TWICE)
    assert finding.level == "warning"
    assert "a tracker or charger joins its negatives inside" in finding.message
    for told, count in (("common: negative", 1), ("common: positive", 0), ("isolated: true", 0)):
        other = edited(("blocks_reverse: true", f"blocks_reverse: true, {told}"), plan=plan)
        assert len(found(other, TWICE)) == count
    at_sea = bonded("from: tracker.pv.negative, to: water, cable: bond-8", setting="boat")
    assert [f.level for f in found(at_sea, TWICE)] == ["warning"]


def test_a_wire_from_the_bank_to_the_chassis_is_a_tie() -> None:
    strap = "  strap: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}\n"
    [finding] = found(bonded(wires=strap), TWICE)
    assert finding.subjects == ("chassis-bond", "strap")


START = """\
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}
"""


def test_banks_that_meet_only_in_the_chassis_have_one_tie_each() -> None:
    plan = bonded(
        wires="  start-return: {from: start.negative, to: chassis, cable: batt-8, length: 1 m}\n"
        "  lamp-run: {from: start.positive, to: lamp.positive, cable: batt-8, length: 1 m}\n"
        "  lamp-return: {from: lamp.negative, to: start.negative, cable: batt-8, length: 1 m}\n"
    )
    plan = edited(
        ("batteries:\n", START),
        ("bonds:\n", "loads: {lamp: {current: 1 A}}\nbonds:\n"),
        plan=plan,
    )
    assert not found(plan, TWICE)
    tied = edited(
        ("wires:\n", "wires:\n  tie: {from: start.negative, to: house.negative, cable: batt-8, "
         "length: 1 m}\n"),
        plan=plan,
    )  # fmt: skip
    [finding] = found(tied, TWICE)
    assert "the negative of `house` and `start`" in finding.message


def test_through_a_controller_that_says_its_negative_is_common() -> None:
    """The array's negative is the bank's then."""
    plan = bonded("from: tracker.pv.negative, to: chassis, cable: bond-8")
    joined = edited(("blocks_reverse: true", "blocks_reverse: true, common: negative"), plan=plan)
    [finding] = found(joined, TWICE)
    assert finding.subjects == ("b0", "chassis-bond")
    apart = edited(("common: negative", "common: negative, isolated: true"), plan=joined)
    assert not found(apart, TWICE)


@pytest.mark.parametrize("order", [1, -1])
@pytest.mark.parametrize("engine", ["starters: {crank: {current: 200 A}}", ENGINE])
def test_the_tie_of_the_engines_battery_stays(order: int, engine: str) -> None:
    """Without it starter and alternator come back by the thin wire between the batteries."""
    ties = [
        "  front-tie: {from: start.negative, to: chassis, cable: batt-8, length: 1 m}\n",
        "  rear-tie: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}\n",
    ][::order]
    name = "crank" if "crank" in engine else "alternator"
    plan = edited(
        ("batteries:\n", f"{engine}\n{START}"),
        ("  chassis-bond: {from: house.negative, to: chassis, cable: bond-8, length: 50 cm}\n",
         "".join(ties)),
        ("wires:\n", "wires:\n"
         "  tie: {from: start.negative, to: house.negative, cable: batt-8, length: 1 m}\n"
         f"  engine-run: {{from: start.positive, to: {name}.positive, cable: batt-8, "
         "length: 1 m}\n"),
        plan=sound(TWICE),
    )  # fmt: skip
    [finding] = found(plan, TWICE)
    assert finding.remedy == "keep one tie, for example `front-tie`, and take away `rear-tie`"
