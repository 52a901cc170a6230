"""Sources that charge a battery through the switch that opens when it is empty."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, faulty, found, sound

STOPS = "low-voltage-switch-stops-charge"

SHORE = """\
chargers:
  shore: {kind: shore, max_output_current: 10 A, charge_voltage: 14.2 V}
wires:
  shore-run: {from: shore, to: house, cable: batt-8, length: 1 m, place: cabin}
"""


def test_a_tracker_behind_it() -> None:
    [finding] = found(faulty(STOPS), STOPS)
    assert (finding.level, finding.subjects) == ("warning", ("low-off", "tracker", "house"))
    assert "below 11.8 V" in finding.message
    assert not found(sound(STOPS), STOPS)


def test_a_note_where_something_else_charges_past_it() -> None:
    [finding] = found(edited(("wires:\n", SHORE), plan=faulty(STOPS)), STOPS)
    assert (finding.level, finding.subjects[1]) == ("note", "tracker")


@pytest.mark.parametrize(("closes", "expected"), [("", 1), (", closes_above: 12.8 V", 0)])
def test_a_charger_that_needs_no_battery_closes_a_relay_again(closes: str, expected: int) -> None:
    """A tracker does not start without one, so that for it the relay stays open."""
    low = edited(("opens_below: 11.8 V", f"opens_below: 11.8 V{closes}"), plan=sound(STOPS))
    shore = edited(("wires:\n", SHORE), ("from: shore, to: house", "from: shore, to: bar"),
                   plan=low)  # fmt: skip
    assert len(found(shore, STOPS)) == expected
    tracker = edited(("opens_below: 11.8 V", f"opens_below: 11.8 V{closes}"), plan=faulty(STOPS))
    assert len(found(tracker, STOPS)) == 1


def test_a_switch_that_a_hand_turns_waits_for_no_voltage() -> None:
    plan = edited((",\n            opens_below: 11.8 V", ""), plan=faulty(STOPS))
    assert not found(plan, STOPS)


def test_a_motorhome_whose_controller_is_led_behind_its_relay() -> None:
    """`board` is a panel, fed through the relay; in either pole it parts the battery."""
    plan = build("motorhome-low-voltage-cut")
    assert not found(plan, STOPS)
    behind = edited(("from: tracker.battery, to: bank,", "from: tracker.battery, to: board,"),
                    plan=plan)  # fmt: skip
    assert [f.subjects for f in found(behind, STOPS)] == [("saver", "tracker", "bank")]


@pytest.mark.parametrize(("opens", "told"), [("11.8 V", True), ("12.8 V", False)])
def test_one_bank_of_two_that_a_relay_joins(opens: str, told: bool) -> None:
    """The other one is charged all the same, and says nothing of the one behind the switch."""
    plan = edited(
        ("switches:\n", "switches:\n  joiner: {rating: 40 A, dc: true, closes_above: 13.3 V}\n"),
        ("busbars:\n", "  second: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}\nbusbars:\n"),
        ("wires:\n", "wires:\n  joining: {from: second, to: bar, cable: batt-8, length: 1 m,\n"
         "            place: cabin, inline: [joiner]}\n"),
        ("opens_below: 11.8 V", f"opens_below: {opens}"),
        plan=faulty(STOPS),
    )  # fmt: skip
    told_of = [("low-off", "tracker", "house")] if told else []
    assert [f.subjects for f in found(plan, STOPS)] == told_of
