"""Rules on starters, isolators, selectors, converters, boxes, packs, heaters and their like."""

from __future__ import annotations

from pathlib import Path

import pytest

from plans import edited
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.testing import check_examples, check_text

RULES = discover()
SOUND = Path(__file__).parents[1] / "sound"
NEW = [
    "alternator-can-lose-battery",
    "breaker-resets-itself",
    "buried-cable-unsuited",
    "cell-temperature-odd",
    "compensation-odd",
    "converter-overloaded",
    "cranking-cable-thin",
    "critical-load-can-be-cut-off",
    "equalised-though-sealed",
    "float-voltage-wrong",
    "frame-bond-too-small",
    "isolator-drop-undercharges",
    "isolator-over-rating",
    "low-voltage-switch-odd",
    "pack-fuse-unfit",
]


@pytest.mark.parametrize("rule", NEW)
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


def sound(name: str) -> str:
    return (SOUND / f"{name}.yaml").read_text(encoding="utf-8")


def example(rule: str) -> str:
    return RULES.rules[rule].sound


def found(plan: str, rule: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


def every(plan: str) -> dict[str, str]:
    return {f.rule: f.level for f in check_text(plan, RULES).findings}


# Starters.


def test_what_the_cables_of_a_starter_lose() -> None:
    """200 A through 2 × 1.5 m of 8 AWG, some 2.06 mΩ/m cold: 1.2 V; at most 0.5 V a pole."""
    [finding] = found(
        RULES.rules["cranking-cable-thin"].faulty.of(example("cranking-cable-thin")),
        "cranking-cable-thin",
    )
    assert finding.values[0].number == pytest.approx(200 * 3.0 * 2.06e-3, rel=0.03)
    assert finding.values[1].number == 1.0


def test_a_sheathed_cranking_cable_needs_no_fuse_and_a_bare_one_is_noted() -> None:
    plan = example("cranking-cable-thin")
    assert not found(plan, "battery-fuse-missing")
    bare = edited((",\n                 enclosed: true", ""), plan=plan)
    [finding] = found(bare, "battery-fuse-missing")
    assert finding.level == "note"
    assert "`enclosed: true`" in finding.remedy


# Inverter and charger in one.


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("max_output_current: 40 A", "max_output_current: 120 A", "charge-current-over-battery"),
        ("max_output_current: 40 A, charge_voltage: 14.2 V",
         "max_output_current: 40 A, charge_voltage: 15.4 V", "charge-voltage-wrong"),
        ("power: 800 W", "power: 2000 W", "load-over-battery-discharge"),
        ("combi, cable: batt-2-0", "combi, cable: wire-12", "conductor-too-small"),
        ("combi, cable: batt-2-0, length: 1 m, place: cabin,\n              inline: "
         "[{combi-fuse: {from_end: from, distance: 0 cm}}]}",
         "combi, cable: batt-2-0, length: 1 m, place: cabin}", "battery-fuse-missing"),
    ],
)  # fmt: skip
def test_an_inverter_charger_is_both(old: str, new: str, rule: str) -> None:
    plan = sound("vehicle-inverter-charger")
    assert rule not in every(plan)
    assert rule in every(edited((old, new), plan=plan))


# Several inputs, and boxes.


def test_each_input_has_its_own_limit_and_all_share_the_output() -> None:
    plan = sound("cabin-two-inputs")
    high = edited(("pv-2: {max_input_voltage: 80 V}", "pv-2: {max_input_voltage: 50 V}"), plan=plan)
    [finding] = found(high, "cold-voltage-over-controller")
    assert "tracker.pv-2" in finding.message or "east-string" in finding.subjects
    small = edited(("max_output_current: 30 A", "max_output_current: 9 A"), plan=plan)
    [finding] = found(small, "controller-clips")


def test_a_box_stands_volts_and_amperes_and_takes_watts() -> None:
    plan = sound("portable-box-nec-2023")
    for old, new, rule in (
        ("max_input_voltage: 60 V", "max_input_voltage: 50 V", "cold-voltage-over-controller"),
        ("max_input_current: 12 A", "max_input_current: 5 A", "controller-input-over-current"),
        ("max_input_power: 220 W", "max_input_power: 80 W", "controller-clips"),
        ("load_current: 10 A", "load_current: 1 A", "load-port-over-rating"),
    ):
        assert not found(plan, rule)
        assert found(edited((old, new), plan=plan), rule), rule


# Switches that open by themselves.


def test_a_critical_load_behind_a_switch_that_opens_by_itself() -> None:
    plan = example("low-voltage-switch-odd")
    rule = "critical-load-can-be-cut-off"
    assert not found(plan, rule)
    critical = edited(("lamp: {current: 2 A}", "lamp: {current: 2 A, critical: true}"), plan=plan)
    [finding] = found(critical, rule)
    assert finding.message == "`lamp` must not stop, and stops when `low-off` opens by itself"


@pytest.mark.parametrize(("volts", "count"), [("10.2 V", 1), ("11.8 V", 0), ("13.6 V", 1)])
def test_a_switch_for_low_voltage_opens_between_empty_and_at_rest(volts: str, count: int) -> None:
    plan = edited(("opens_below: 11.8 V", f"opens_below: {volts}"),
                  plan=example("low-voltage-switch-odd"))  # fmt: skip
    assert len(found(plan, "low-voltage-switch-odd")) == count


def test_an_alternator_may_lose_its_battery_with_an_arrester() -> None:
    rule = "alternator-can-lose-battery"
    faulty = RULES.rules[rule].faulty.of(example(rule))
    assert len(found(faulty, rule)) == 1
    held = edited(
        ("bonds:\n", "arresters:\n  surge: {across: alternator, voltage: 16 V}\nbonds:\n"),
        plan=faulty,
    )
    assert not found(held, rule)


# Batteries.


def test_a_heater_stands_in_for_a_cut_off_as_far_as_it_keeps_warm() -> None:
    plan = sound("cabin-heated-battery")
    assert not found(plan, "charge-below-freezing")
    cold = edited(("keeps: 5 °C", "keeps: -5 °C"), plan=plan)
    assert [f.level for f in found(cold, "charge-below-freezing")] == ["warning"]


def test_a_regulator_that_holds_an_alternator_back() -> None:
    plan = edited(("capacity: 100 Ah", "capacity: 400 Ah"), plan=sound("boat-external-regulator"))
    rule = "alternator-straight-to-lithium"
    assert not found(plan, rule)
    hot = edited((", limited_to: 60 A", ""), ("\n               senses_heat: true,", ""), plan=plan)
    assert found(hot, rule)
    held = edited((", limited_to: 60 A", ", limited_to: 30 A"),
                  ("\n               senses_heat: true,", ""), plan=plan)  # fmt: skip
    assert not found(held, rule)


@pytest.mark.parametrize(
    ("chemistry", "level"),
    [("gel", "error"), ("lithium-iron-phosphate", "error"), ("agm", "warning"), ("flooded", "")],
)
def test_only_flooded_lead_is_equalised(chemistry: str, level: str) -> None:
    plan = edited(
        ("chemistry: flooded", f"chemistry: {chemistry}"), plan=example("equalised-though-sealed")
    )
    assert [f.level for f in found(plan, "equalised-though-sealed")] == ([level] if level else [])


@pytest.mark.parametrize(
    ("told", "level"),
    [("-24 mV/°C", ""), ("-18 mV/°C", ""), ("-4 mV/°C", "warning"), ("30 mV/°C", "error")],
)
def test_compensation_by_sign_and_size(told: str, level: str) -> None:
    plan = edited(("compensation: -24 mV/°C", f"compensation: {told}"),
                  plan=example("compensation-odd"))  # fmt: skip
    assert [f.level for f in found(plan, "compensation-odd")] == ([level] if level else [])


def test_the_fuses_of_packs_stand_for_a_main_fuse_where_wires_suit_all_of_them() -> None:
    """4 × 60 A are more than 6 AWG stands; 4 × 10 A are not."""
    plan = sound("cabin-packs-iec")
    fuse = ",\n               inline: [{charge-fuse: {from_end: to, distance: 0 cm}}]}"
    bare = edited((fuse, "}"), plan=plan)
    assert found(bare, "battery-fuse-missing")
    small = bare.replace("pack-fuse: {rating: 60 A", "pack-fuse: {rating: 10 A")
    assert not found(small, "battery-fuse-missing")


# Isolators.


def test_a_diode_that_is_sensed_or_loses_nothing() -> None:
    rule = "isolator-drop-undercharges"
    faulty = RULES.rules[rule].faulty.of(example(rule))
    [finding] = found(faulty, rule)
    assert "`start` gets 13.7 V" in finding.message
    assert not found(edited(("rating: 120 A,", "rating: 120 A, drop: 0.05 V,"), plan=faulty), rule)


def test_banks_behind_an_isolator_are_not_in_parallel() -> None:
    plan = sound("boat-isolator-abyc-e11")
    lithium = plan.replace("start: {chemistry: agm", "start: {chemistry: gel")
    assert "unlike-batteries-joined" not in every(lithium)


# In the ground, on the roof.


@pytest.mark.parametrize(
    ("edit", "count"),
    [
        (("depth: 60 cm", "depth: 55 cm"), 1),
        (("type: NYY-J", "type: H07V-K"), 1),
        (("run: buried, depth: 60 cm", "run: buried, enclosed: true, depth: 50 cm"), 0),
        (("run: buried, depth: 60 cm", "run: surface"), 0),
    ],
)
def test_cable_in_the_ground(edit: tuple[str, str], count: int) -> None:
    plan = edited(edit, plan=example("buried-cable-unsuited"))
    assert len(found(plan, "buried-cable-unsuited")) == count


def test_an_array_that_stands_hot_has_the_rise_of_its_label() -> None:
    """(45 °C − 20 °C) / 0.8 = 31.25 K over 40 °C of air, in an open rack."""
    plan = example("cell-temperature-odd")
    told = edited((",\n                hottest_cells: 72 °C", ""),
                  ("mounting: roof-gap", "mounting: open-rack"), plan=plan)  # fmt: skip
    from wattproof.testing import study_of

    [array] = study_of(told).array.arrays
    assert array.all_strings[0].cells("hottest").number == pytest.approx(71.25)
    [array] = study_of(plan).array.arrays
    assert array.all_strings[0].cells("hottest").number == 72.0


def test_frames_that_a_conductor_ties_are_bonded() -> None:
    plan = edited(("mounting: roof-gap", "mounting: roof-gap, frames_bonded: false"),
                  plan=example("frame-bond-too-small"))  # fmt: skip
    assert not found(plan, "frames-not-bonded")
    start = plan.index("frame_bonds:")
    assert found(plan[:start] + plan[plan.index("wires:") :], "frames-not-bonded")
