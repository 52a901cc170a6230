"""What passes the shunt of a battery monitor by."""

from __future__ import annotations

from plans import edited
from rule_runs import faulty, found, sound

SHUNT = "shunt-bypassed"


def test_what_the_monitor_does_not_count() -> None:
    [finding] = found(faulty(SHUNT), SHUNT)
    assert finding.subjects == ("house", "tracker")
    assert "its monitor misses up to 30 A" in finding.message


def test_an_inverter_on_the_post_of_the_battery() -> None:
    """800 W / (0.9 × 11 V) = 80.81 A."""
    plan = edited(
        ("inverter-run: {from: bar, to: mains", "inverter-run: {from: house, to: mains"),
        plan=sound(SHUNT),
    )
    [finding] = found(plan, SHUNT)
    assert (finding.subjects, str(finding.values[0])) == (("house", "mains"), "80.8 A")


def test_a_way_back_through_the_chassis_counts() -> None:
    plan = edited(
        ("wires:\n", "bonds:\n  strap: {from: house.negative, to: chassis, cable: bank-1-0}\n"
         "loads:\n  lamp: {current: 2 A}\nwires:\n"
         "  lamp-run: {from: bar.positive, to: lamp.positive, cable: batt-8, length: 1 m}\n"
         "  lamp-back: {from: lamp.negative, to: chassis, cable: batt-8, length: 1 m}\n"),
        plan=sound(SHUNT),
    )  # fmt: skip
    [finding] = found(plan, SHUNT)
    assert finding.subjects == ("house", "lamp")
    at_bar = edited(("strap: {from: house.negative", "strap: {from: bar.negative"), plan=plan)
    assert not found(at_bar, SHUNT)


def test_without_a_shunt_it_is_silent() -> None:
    assert not found(edited((", shunt: bank-run", ""), plan=faulty(SHUNT)), SHUNT)
