"""What is led to a battery past the relay that its management opens."""

from __future__ import annotations

from plans import edited
from rule_runs import asked, build, faulty, found, sound

PAST = "management-bypassed"

INVERTER = """\
inverters:
  mains: {power: 200 W, nominal: 12 V, low_voltage: 11 V}
loads:
  lamp: {current: 2 A}
wires:
  lamp-run: {from: bar, to: lamp, cable: batt-8, length: 1 m, place: cabin}
  mains-run: {from: bar, to: mains, cable: batt-8, length: 1 m, place: cabin}
"""


def test_a_charger_past_the_relay_that_parts_another() -> None:
    [finding] = found(faulty(PAST), PAST)
    assert (finding.level, finding.subjects) == ("warning", ("shore", "house", "contactor"))
    assert "`shore` charges `house` past `contactor`" in finding.message


def test_a_relay_for_consumers_alone_guards_no_charging() -> None:
    """Where nothing charges through it, the pack itself is taken to stop its charge."""
    both = edited(("from: tracker.battery, to: bar,", "from: tracker.battery, to: house,"),
                  plan=faulty(PAST))  # fmt: skip
    assert not found(both, PAST)


def test_a_switch_that_a_hand_turns_is_no_relay_of_the_management() -> None:
    plan = edited((",\n              opened_by: house", ""), plan=faulty(PAST))
    assert not found(plan, PAST)


def test_consumers_too_and_not_what_must_not_stop() -> None:
    behind = edited(("wires:\n", INVERTER), plan=sound(PAST))
    assert not found(behind, PAST)
    past = edited(("from: bar, to: mains", "from: house, to: mains"), plan=behind)
    [finding] = found(past, PAST)
    assert (finding.level, finding.subjects) == ("note", ("mains", "house", "contactor"))
    pump = edited(
        ("inverters:\n  mains: {power: 200 W, nominal: 12 V, low_voltage: 11 V}",
         "heaters:\n  mains: {current: 4 A, warms: house, keeps: 5 °C}"),
        plan=past,
    )  # fmt: skip
    assert not found(pump, PAST)


def test_one_relay_for_charging_and_one_for_consumers() -> None:
    """Each bank may have several; what is behind one of them is guarded."""
    plan = edited(
        ("contactor: {", "second: {rating: 100 A, voltage: 32 V, dc: true, opened_by: house}\n"
         "  contactor: {"),
        ("from: shore, to: house, cable: batt-8, length: 1 m, place: cabin,\n"
         "              inline: [{", "from: shore, to: house, cable: batt-8, length: 1 m, "
         "place: cabin,\n              inline: [second, {"),
        plan=faulty(PAST),
    )  # fmt: skip
    assert not found(plan, PAST)


def test_banks_without_a_relay_have_none_to_be_led_past() -> None:
    """Of two whose negatives are joined nowhere, as of two that return over the body."""
    plan = build("boat-relay-and-bilge-pump")
    plan = edited(
        ("relay-run: {from: start, to: house,", "relay-run: {from: start.positive, to: "
         "house.positive,"),
        plan=plan,
    )  # fmt: skip
    assert not found(plan, PAST)


def test_a_relay_for_charging_guards_no_consumer() -> None:
    plan = build("boat-lithium-behind-charger")
    relay = "  charge-relay: {rating: 60 A, dc: true, opened_by: house}\n"
    guarded = edited(
        ("switches:\n", f"switches:\n{relay}"),
        ("inline: [{out-fuse", "inline: [charge-relay, {out-fuse"),
        plan=plan,
    )
    assert [f.subjects for f in found(guarded, PAST)] == [("tracker", "house", "charge-relay")]


def test_bare_cells_have_no_management_inside_that_stops_their_charge() -> None:
    """Where nothing charges through the relay of cells, nothing stops it at all."""
    both = edited(("from: tracker.battery, to: bar,", "from: tracker.battery, to: house,"),
                  plan=faulty(PAST))  # fmt: skip
    cells = edited(
        ("nominal: 12.8 V", "nominal: 3.2 V, arrangement: 4s"),
        ("max_charge_voltage: 14.6 V", "max_charge_voltage: 3.65 V"),
        plan=both,
    )
    assert {f.subjects[0] for f in found(cells, PAST)} == {"shore", "tracker"}


CELLS = edited(
    ("nominal: 12.8 V", "nominal: 3.2 V, arrangement: 4s"),
    ("max_charge_voltage: 14.6 V", "max_charge_voltage: 3.65 V"),
    (", low_temperature_cutoff: true", ""),
    plan=sound(PAST),
)


def test_bare_cells_of_which_no_management_is_told_are_asked_for() -> None:
    """A board that parts them itself is usual, and has no key of its own."""
    assert not asked(CELLS, PAST)
    alone = edited((",\n              opened_by: house", ""), plan=CELLS)
    assert not found(alone, PAST)
    assert asked(alone, PAST) == ["management of bare cells"]
    board = edited(
        ("arrangement: 4s", "arrangement: 4s, low_temperature_cutoff: false"), plan=alone
    )
    assert not asked(board, PAST)
    packs = edited((",\n              opened_by: house", ""), plan=sound(PAST))
    assert not asked(packs, PAST)
