"""Batteries that conductors join, by kind and by capacity."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import all_found, asked, build, faulty, found, levels, sound
from rules.wiring.plans import in_series

UNLIKE = "unlike-batteries-joined"
PORT = "port-pack: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah"


def port_pack(chemistry: str, nominal: str, capacity: str) -> tuple[str, str]:
    return PORT, f"port-pack: {{chemistry: {chemistry}, nominal: {nominal}, capacity: {capacity}"


@pytest.mark.parametrize(
    ("capacity", "expected"),
    [("90 Ah", []), ("89 Ah", ["warning"]), ("111 Ah", []), ("112 Ah", ["warning"])],
)
def test_capacity_in_parallel(capacity: str, expected: list[str]) -> None:
    """1 − 90/100 is the tenth that may be; 1 − 100/112 is 10.7 %."""
    plan = edited(port_pack("lithium-iron-phosphate", "12.8 V", capacity), plan=sound(UNLIKE))
    assert levels(plan, UNLIKE) == expected


def test_unlike_capacity_tells_both_and_equal_ones_hold() -> None:
    [finding] = found(faulty(UNLIKE), UNLIKE)
    assert "differ by 33.3 % in capacity" in finding.message
    assert finding.subjects == ("port-pack", "starboard-pack")
    assert finding.margin == pytest.approx(1 - (1 - 100 / 150) / 0.1)
    assert "batteries of 150 Ah for both" in finding.remedy


def test_two_beside_one_of_the_same_are_alike_and_two_smaller_ones_are_not() -> None:
    """In parallel each battery stands beside each other, however they are counted."""
    two = edited((PORT, f"{PORT}, arrangement: 2p"), plan=sound(UNLIKE))
    assert not found(two, UNLIKE)
    halves = edited(("capacity: 100 Ah, arrangement", "capacity: 50 Ah, arrangement"), plan=two)
    [finding] = found(halves, UNLIKE)
    assert "(50 Ah)" in finding.message


def test_lithium_beside_lead_is_an_error() -> None:
    plan = edited(port_pack("agm", "12 V", "100 Ah"), plan=sound(UNLIKE))
    [finding] = found(plan, UNLIKE)
    assert finding.level == "error"
    assert "`port-pack` (agm) and `starboard-pack` (lithium-iron-phosphate)" in finding.message
    assert "of at most 50 A" in finding.remedy


SWITCH = (
    ("switches:\n", "switches:\n  joiner: {rating: 200 A, voltage: 32 V, dc: true}\n"),
    ("inline: [{starboard-fuse: {from_end: from, distance: 5 cm}}]",
     "inline: [{starboard-fuse: {from_end: from, distance: 5 cm}}, joiner]"),
)  # fmt: skip
STARBOARD = PORT.replace("port-pack", "starboard-pack")


def test_start_and_house_lead_behind_a_switch_are_milder() -> None:
    lead = edited(
        port_pack("agm", "12 V", "100 Ah"),
        (STARBOARD, "starboard-pack: {chemistry: flooded, nominal: 12 V, capacity: 100 Ah"),
        plan=sound(UNLIKE),
    )
    assert levels(lead, UNLIKE) == ["error"]
    [finding] = found(edited(*SWITCH, plan=lead), UNLIKE)
    assert finding.level == "warning"
    assert "in parallel through `joiner`" in finding.message
    mixed = edited(port_pack("agm", "12 V", "100 Ah"), *SWITCH, plan=sound(UNLIKE))
    assert levels(mixed, UNLIKE) == ["error"]  # a switch does not help lithium


def test_two_systems_that_a_switch_joins_may_differ_in_size() -> None:
    """A lamp on the starboard pack makes it a bank of its own; a pack's own switch does not."""
    other = "capacity: 300 Ah"
    joined = edited(*SWITCH, (PORT, PORT.replace("capacity: 100 Ah", other)), plan=sound(UNLIKE))
    assert levels(joined, UNLIKE) == ["warning"]
    lamp = joined + (
        "  lamp-run: {from: starboard-pack, to: lamp, cable: batt-8, length: 1 m}\n"
        "loads:\n  lamp: {current: 2 A}\n"
    )
    assert not found(lamp, UNLIKE)
    relay = joined.replace("32 V, dc: true}", "32 V, dc: true, closes_above: 13 V}")
    assert relay != joined
    assert not found(relay, UNLIKE)


@pytest.mark.parametrize("order", ["own, joiner", "joiner, own"])
def test_a_relay_joins_beside_the_switch_of_one_of_them(order: str) -> None:
    """Each battery has its own switch, and the relay lies somewhere between."""
    joined = edited(*SWITCH, (PORT, PORT.replace("capacity: 100 Ah", "capacity: 300 Ah")),
                    ("}}, joiner]", f"}}}}, {order}]"), plan=sound(UNLIKE))  # fmt: skip
    own = "  own: {rating: 200 A, voltage: 32 V, dc: true}\n"
    joined = joined.replace("switches:\n", f"switches:\n{own}", 1)
    assert levels(joined, UNLIKE) == ["warning"]
    relay = joined.replace("joiner: {rating: 200 A,", "joiner: {closes_above: 13 V, rating: 200 A,")
    assert relay != joined
    assert not found(relay, UNLIKE)


def test_series_is_stricter_with_capacity() -> None:
    assert not found(in_series(), UNLIKE)
    low = "low: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: "
    plan = in_series((f"{low}100 Ah", f"{low}80 Ah"))
    [finding] = found(plan, UNLIKE)
    assert finding.level == "error"
    assert "joined in series" in finding.message


def test_a_charger_between_banks_joins_nothing() -> None:
    assert not found(sound("alternator-overloaded"), UNLIKE)  # AGM, vehicle charger, lithium


def test_banks_behind_an_isolator_are_not_in_parallel() -> None:
    plan = build("boat-isolator-abyc-e11")
    lithium = plan.replace("start: {chemistry: agm", "start: {chemistry: gel")
    assert "unlike-batteries-joined" not in all_found(lithium)


def test_a_capacity_that_nobody_tells_is_asked_for() -> None:
    """Whatever is taken for it differs from that of the one beside it."""
    untold = edited((", capacity: 100 Ah", ""), plan=faulty(UNLIKE))
    assert "capacity: 150 Ah" in untold
    assert not found(untold, UNLIKE)
    assert asked(untold, UNLIKE) == ["not told"]


ENGINE = """\
wattproof: 1
setting: SETTING
chargers: {alternator: {kind: alternator, max_output_current: 100 A}}
starters: {motor: unknown}
switches: {relay: {closes_above: 13.3 V}}
batteries:
  engine: {nominal: 12 V}
  house: {chemistry: LiFePO4, nominal: 12.8 V, capacity: 100 Ah, low_temperature_cutoff: true}
wires:
  charge: {from: alternator, to: engine}
  crank: {from: engine, to: motor}
  join: {from: engine, to: house, inline: relay}
"""
NO_STARTER = (
    ("starters: {motor: unknown}\n", ""),
    ("  crank: {from: engine, to: motor}\n", ""),
)


@pytest.mark.parametrize(
    ("setting", "edits", "verdicts"),
    [
        ("vehicle", (), ["likely"]),
        ("vehicle", NO_STARTER, ["likely"]),
        ("boat", (), ["likely"]),
        ("boat", NO_STARTER, []),  # it may well be the bank of all
        ("vehicle", (("engine: {nominal", "engine: {chemistry: LiFePO4, nominal"),), []),
        ("vehicle", (("engine: {nominal", "engine: {chemistry: agm, nominal"),), ["certain"]),
    ],
)
def test_the_battery_of_an_engine_is_lead_but_for_a_few(
    setting: str, edits: tuple[tuple[str, str], ...], verdicts: list[str]
) -> None:
    """Nobody tells its kind, and lithium on a relay beside it was asked about behind all else."""
    plan = edited(("SETTING", setting), *edits, plan=ENGINE)
    assert [f.verdict for f in found(plan, "unlike-batteries-joined")] == verdicts


def test_a_relay_that_holds_the_current_down_joins_lithium_with_a_note() -> None:
    held = ("max_output_current: 100 A", "max_output_current: 100 A, limited_to: 40 A")
    plan = edited(
        ("SETTING", "vehicle"),
        ("engine: {nominal", "engine: {chemistry: agm, nominal"),
        plan=ENGINE,
    )
    assert levels(plan, UNLIKE) == ["error"]
    assert levels(edited(held, plan=plan), UNLIKE) == ["note"]
    bare = edited(held, ("to: house, inline: relay", "to: house"), plan=plan)
    assert levels(bare, UNLIKE) == ["error"]
