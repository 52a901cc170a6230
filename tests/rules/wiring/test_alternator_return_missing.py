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


def test_a_starter_without_a_negative_on_a_battery_that_nothing_ties_to_its_engine() -> None:
    """Its start looks for other ways; what an alternator has for its negative leads there too."""
    crank = (
        "  crank: {from: start.positive, to: motor.positive, cable: batt-1-0, length: 1 m,\n"
        "          place: cabin, enclosed: true}\n"
    )
    back = "  back: {from: start.negative, to: alternator.negative, cable: batt-1-0, length: 1 m}\n"
    motor = edited(
        ("wires:\n", "starters:\n  motor: {current: 250 A}\nwires:\n"), plan=faulty(RETURN)
    )
    both = motor + crank
    assert [f.subjects for f in found(both, RETURN)] == [("start", "alternator")]  # one cause
    assert not found(both + back, RETURN)
    run = faulty(RETURN).index("  alternator-run:")
    alone = edited(("chargers:\n  alternator: {kind: alternator, max_output_current: 90 A, "
                    "charge_voltage: 14.4 V, nominal: 12 V}\n", ""),
                   (faulty(RETURN)[run:], ""), plan=motor) + crank  # fmt: skip
    [finding] = found(alone, RETURN)
    assert finding.subjects == ("start", "motor")
    assert "`motor` returns up to 250 A through the engine" in finding.message
