"""Fuses of the packs of a bank, by what the other packs drive into one that shorts inside."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, build, faulty, found, sound

RULE = "pack-fuse-unfit"


def test_two_other_packs_drive_twice_the_current_of_one() -> None:
    [finding] = found(faulty(RULE), RULE)
    assert [value.number for value in finding.values] == [7_000.0, 2_000.0]
    pair = edited(("arrangement: 3p", "arrangement: 2p"), plan=faulty(RULE))
    assert found(pair, RULE)[0].values[0].number == 3_500.0


def test_what_nothing_says_is_undecided() -> None:
    rated = "pack-fuse: {rating: 100 A, voltage: 125 V"
    plan = sound(RULE, (f"{rated}, style: class-t, interrupt: 20 kA", rated))
    assert not found(plan, RULE)
    assert asked(plan, RULE) == ["interrupt rating"]


def test_fuses_carry_what_charges_their_packs() -> None:
    """A shore charger of 200 A and a tracker of 20 A or so, and three fuses of 60 A."""
    shore = "chargers:\n  shore: {kind: shore, max_output_current: 200 A, charge_voltage: 14.2 V}\n"
    way = "  shore-run: {from: shore, to: house, cable: batt-1-0, length: 1 m, place: cabin}\n"
    plan = edited(
        ("batteries:\n", f"{shore}batteries:\n"),
        ("wires:\n", f"wires:\n{way}"),
        ("pack-fuse: {rating: 100 A", "pack-fuse: {rating: 60 A"),
        plan=sound(RULE),
    )
    [finding] = found(plan, RULE)
    assert finding.level == "warning"
    assert "is charged into `house`, and the fuses of its packs carry 180 A" in finding.message
    assert not found(plan.replace("pack-fuse: {rating: 60 A", "pack-fuse: {rating: 80 A"), RULE)


@pytest.mark.parametrize(
    ("distance", "expected"),
    [("0 cm", []), ("20 cm", []), ("21 cm", ["error"]), ("1 m", ["error"])],
)
def test_wire_between_a_post_and_its_fuse(distance: str, expected: list[str]) -> None:
    """0.2 m by IEC practice, as for every battery's fuse."""
    told = (
        "each_pack: {fuse: pack-fuse, distance: 0 cm}",
        f"each_pack: {{fuse: pack-fuse, distance: {distance}}}",
    )
    findings = found(edited(told, plan=build("cabin-packs-iec")), "pack-fuse-unfit")
    assert len(findings) == bool(expected)
    for finding in findings:
        assert finding.level in expected
        assert "the most allowed" in finding.message


@pytest.mark.parametrize(
    ("label", "levels"),
    [
        ("rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true", []),
        ("rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: false", ["error"]),
        ("rating: 60 A, voltage: 12 V, style: class-t, interrupt: 20 kA, dc: true", ["error"]),
        ("rating: 60 A, style: cartridge, voltage: 500 V, interrupt: 50 kA", ["warning"]),
        ("rating: 60 A, style: cartridge, voltage: 60 V, interrupt: 50 kA, dc: true", []),
        ("rating: 60 A, style: glass, interrupt: 50 kA", ["warning", "warning"]),  # up to 16 A too
        ("rating: 60 A, style: blade, voltage: 58 V, interrupt: 12 kA", ["warning"]),
    ],
)
def test_packs_have_fuses_of_a_kind_that_breaks_direct_current(
    label: str, levels: list[str]
) -> None:
    was = "rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true"
    plan = edited(
        (f"pack-fuse: {{{was}}}", f"pack-fuse: {{{label}}}"), plan=build("cabin-packs-iec")
    )
    assert [f.level for f in found(plan, "pack-fuse-unfit")] == levels


def test_a_pack_fuse_of_unknown_voltage_is_asked_for_as_one_in_a_wire_is() -> None:
    """With its rating alone; of a style that makers give 58 V to it is told at 58.4 V."""
    rated = "pack-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: 20 kA"
    bare = "pack-fuse: {rating: 100 A, interrupt: 20 kA"
    high = ("nominal: 12.8 V", "nominal: 51.2 V"), ("charge_voltage: 14.6", "charge_voltage: 58.4")
    plan = sound(RULE, (rated, bare), *high)
    assert not found(plan, RULE)
    assert asked(plan, RULE) == ["device voltage"]
    styled = sound(RULE, (rated, bare.replace("interrupt", "style: bolt-down, interrupt")), *high)
    [finding] = found(styled, RULE)
    assert "is rated 32 V DC; charging brings it to 58.4 V" in finding.message


def test_the_voltage_that_lead_comes_to_in_the_cold() -> None:
    """15.3 V at -13 °C or so, of 14.4 V at 25 °C."""
    follows = "charge_voltage: 14.4 V, compensates_temperature: true"
    plan = edited(
        ("chemistry: lithium-iron-phosphate, nominal: 12.8 V", "chemistry: agm, nominal: 12 V"),
        ("max_charge_voltage: 14.6 V", "max_charge_voltage: 14.4 V"),
        ("charge_voltage: 14.2 V", follows),
        ("pack-fuse: {rating: 100 A, voltage: 125 V", "pack-fuse: {rating: 100 A, voltage: 15 V"),
        plan=sound(RULE),
    )
    [finding] = found(plan, RULE)
    assert finding.message.endswith(" in the cold")
    assert not found(plan.replace(follows, "charge_voltage: 14.4 V"), RULE)


def test_a_rating_that_nobody_told_is_taken_by_its_pack() -> None:
    """It was taken for 15 A, as in a string of modules, and found too small for what is drawn."""
    plan = """
wattproof: 1
setting: vehicle
batteries:
  bank: {chemistry: lifepo4, nominal: 12.8 V, capacity: 100 Ah, arrangement: 2p,
         each_pack: {fuse: pack-fuse, distance: 0 cm}}
fuses: {pack-fuse: {style: class-t}}
loads: {heater: {current: 120 A}}
wires:
  run: {from: bank, to: heater, length: 1 m}
"""
    assert not found(plan, "pack-fuse-unfit")
