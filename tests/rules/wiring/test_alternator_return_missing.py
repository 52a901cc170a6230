"""An alternator that returns through the engine, and a battery that does not."""

from __future__ import annotations

from plans import edited
from rule_runs import faulty, found

RETURN = "alternator-return-missing"


def test_a_strap_a_wire_to_the_chassis_or_a_negative_is_a_way_back() -> None:
    [finding] = found(faulty(RETURN), RETURN)
    assert finding.subjects == ("start", "alternator")
    assert "returns up to 90 A through the engine" in finding.message
    body = "  body: {from: start.negative, to: chassis, cable: batt-1-0, length: 1 m}\n"
    assert not found(faulty(RETURN) + body, RETURN)
    back = "  back: {from: start.negative, to: alternator.negative, cable: batt-1-0, length: 1 m}\n"
    assert not found(faulty(RETURN) + back, RETURN)


def test_the_remedy_names_the_ground_of_the_setting() -> None:
    [finding] = found(faulty(RETURN), RETURN)
    assert "`start.negative` to chassis" in finding.remedy
    boat = edited(("setting: vehicle", "setting: boat"), plan=faulty(RETURN))
    assert "`start.negative` to water" in found(boat, RETURN)[0].remedy


def test_the_negative_of_a_starter_ties_its_battery_to_the_engine() -> None:
    """Common practice: a starter is bolted to the engine, and its case is its negative."""
    plan = edited(
        ("wires:\n", "starters:\n  motor: {current: 250 A}\nwires:\n"), plan=faulty(RETURN)
    )
    plus = (
        "  crank: {from: start.positive, to: motor.positive, cable: batt-1-0, length: 1 m,\n"
        "          place: cabin, enclosed: true}\n"
    )
    assert found(plan + plus, RETURN)
    minus = "  block: {from: motor.negative, to: start.negative, cable: batt-1-0, length: 1 m}\n"
    assert not found(plan + plus + minus, RETURN)
