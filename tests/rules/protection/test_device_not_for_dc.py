"""Whether a fuse, breaker or switch can open a direct current at the voltage it meets."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, found, found_beside_all, levels, sound
from rules.protection.plans import CHARGE, panel
from wattproof.plan.amend import Change

DC = "device-not-for-dc"


@pytest.mark.parametrize(
    ("marks", "level", "certainty"),
    [
        (", dc: false", "error", "certain"),
        (", voltage: 250 V, dc: false", "error", "certain"),
        (", voltage: 14.6 V", None, ""),  # at the highest charge voltage
        (", voltage: 14.5 V", "error", "certain"),
        (", voltage: 14 V", "note", "certain"),  # marks that name the system that it is made for
        (", voltage: 12 V", "note", "certain"),
        (", voltage: 13 V", "error", "certain"),
        (", dc: true", None, ""),  # 32 V are usual
        ("", None, ""),
        (", style: blade", None, ""),  # 32 V at least
        (", style: cartridge", "warning", "likely"),  # for alternating current unless marked
        (", style: cartridge, voltage: 80 V", "warning", "certain"),  # of which current?
        (", style: glass, voltage: 250 V", "warning", "certain"),
        (", style: glass, voltage: 32 V", None, ""),  # no mains have so little
        (", style: glass", None, ""),  # of 40 A, which vehicles alone have
        (", style: cartridge, voltage: 80 V, dc: true", None, ""),
        (", style: cartridge, voltage: 13 V, dc: true", "error", "certain"),
    ],
)
def test_marks_of_a_fuse_on_the_battery_side(marks: str, level: str | None, certainty: str) -> None:
    plan = edited((", voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true", marks),
                  plan=CHARGE)  # fmt: skip
    findings = found(plan, DC)
    assert [(f.level, f.verdict) for f in findings] == ([(level, certainty)] if level else [])


def test_style_of_a_fuse_on_a_48_v_bank_is_too_low_until_its_label_says_more() -> None:
    plan = edited(
        ("nominal: 12.8 V", "nominal: 51.2 V"),
        ("max_charge_voltage: 14.6 V", "max_charge_voltage: 58.4 V"),
        ("charge_voltage: 14.2 V, b", "charge_voltage: 57 V, b"),
        ("voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true", "style: bolt-down"),
        plan=CHARGE,
    )
    [finding] = found(plan, DC)
    assert (finding.level, finding.verdict) == ("warning", "likely")
    assert "is rated 32 V DC, and charging brings its circuit to 58.4 V" in finding.message
    assert finding.margin == pytest.approx(1 - 58.4 / 32)
    assert "125 V DC is usual" in finding.remedy
    assert not found(
        edited(("style: bolt-down", "style: bolt-down, voltage: 58.4 V"), plan=plan), DC
    )
    printed = edited(("style: bolt-down", "style: bolt-down, voltage: 32 V"), plan=plan)
    assert levels(printed, DC) == ["error"]


@pytest.mark.parametrize(
    ("printed", "level", "verdict"),
    [("13 V", "error", "certain"), ("14.3 V", "warning", "likely")],
)
def test_an_assumed_charge_voltage_is_surely_above_the_nominal_one(
    printed: str, level: str, verdict: str
) -> None:
    plan = edited(
        (", max_charge_voltage: 14.6 V", ""),
        ("charge_voltage: 14.2 V, ", ""),
        ("voltage: 125 V, style", f"voltage: {printed}, style"),
        plan=CHARGE,
    )
    [finding] = found(plan, DC)
    assert (finding.level, finding.verdict) == (level, verdict)


def test_on_the_array_side_only_what_is_for_alternating_current() -> None:
    plan = edited(("voltage: 150 V, dc: true, poles: 2", "voltage: 30 V, poles: 2"), plan=CHARGE)
    assert not found(plan, DC)
    [finding] = found(edited(("voltage: 30 V, poles: 2", "dc: false, poles: 2"), plan=plan), DC)
    assert finding.subjects == ("pv-off",)
    assert "switch `pv-off` is for alternating current only" in finding.message


def test_ways_of_a_panel_take_its_voltage_and_are_asked_for_once() -> None:
    assert not found(panel(), DC)
    silent = panel((" voltage: 32 V,", ""))
    assert not found(silent, DC)
    assert not asked(silent, DC)  # the lowest mark, 14 V, is that of a 12 V system
    above = silent.replace(": 12.8 V", ": 25.6 V").replace(": 14.6 V", ": 29.2 V")
    assert asked(above, DC) == ["device voltage"]
    assert not found(panel((" voltage: 32 V,", ""), ("{fuse: 10 A}", "{fuse: 10 A, style: blade}"),
                           ("{fuse: 30 A}", "{fuse: 30 A, style: blade}")), DC)  # fmt: skip


def test_a_remedy_for_alternating_current_holds_when_applied() -> None:
    plan = edited(("voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true", "dc: false"),
                  plan=CHARGE)  # fmt: skip
    [finding] = found(plan, DC)
    assert finding.remedy == "use a fuse that is marked for DC at 14.6 V or more: 32 V DC is usual"
    assert not found(edited(("dc: false", "dc: true, voltage: 32 V"), plan=plan), DC)


@pytest.mark.parametrize("made", ["rail-breaker", "moulded-case-breaker"])
@pytest.mark.parametrize("volts", [60, 250, 600])
def test_a_breaker_made_for_alternating_current_is_good_for_dc_only_where_it_says_so(
    made: str, volts: float
) -> None:
    plan = edited(
        ("fuses:\n  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, "
         "dc: true}\n",
         f"breakers:\n  charge-fuse: {{rating: 40 A, voltage: {volts} V, style: {made}, "
         "interrupt: 20 kA}\n"),
        plan=CHARGE,
    )  # fmt: skip
    [finding] = found(plan, DC)
    assert finding.level == "warning"
    assert "made for alternating current" in finding.message
    assert f"its {volts} V hold for direct current" in finding.message
    assert not found(edited(("interrupt: 20 kA}", "interrupt: 20 kA, dc: true}"), plan=plan), DC)
    marked_low = edited(
        (f"voltage: {volts} V, style", "voltage: 13 V, style"),
        ("interrupt: 20 kA}", "interrupt: 20 kA, dc: true}"),
        plan=plan,
    )
    assert levels(marked_low, DC) == ["error"]


@pytest.mark.parametrize(
    ("volts", "fires"), [(60, False), (150, False), (230, True), (400, True), (1000, True)]
)
def test_an_isolator_of_a_mains_voltage_says_for_which_current(volts: float, fires: bool) -> None:
    plan = edited(("voltage: 150 V, dc: true, poles: 2", f"voltage: {volts} V, poles: 2"),
                  plan=CHARGE)  # fmt: skip
    findings = [f for f in found(plan, DC) if f.subjects == ("pv-off",)]
    assert bool(findings) == fires


@pytest.mark.parametrize(
    ("voltage", "fires"), [("14.1 V", True), ("14.7 V", False), ("48 V", False)]
)
def test_a_busbar_of_too_low_a_voltage(voltage: str, fires: bool) -> None:
    plan = edited(
        ("wires:\n", f"busbars:\n  bar: {{rating: 100 A, voltage: {voltage}}}\nwires:\n"),
        ("to: house, cable: batt-8", "to: bar, cable: batt-8"),
        (
            "  charge-run:",
            "  bar-run: {from: bar, to: house, cable: batt-8, length: 20 cm, place: cabin}\n"
            "  charge-run:",
        ),
        plan=sound(DC),
    )
    findings = [f for f in found(plan, DC) if "busbar" in f.message]
    assert [f.level for f in findings] == (["error"] if fires else [])


@pytest.mark.parametrize(("volts", "fires"), [("12.5 V", True), ("14.6 V", False)])
def test_a_charge_voltage_of_another_system_hides_no_voltage(volts: str, fires: bool) -> None:
    """Whatever a charger is set to, a charged bank at rest has its own voltage."""
    plan = edited(
        (", voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true", f", voltage: {volts}"),
        ("charge_voltage: 14.2 V", "charge_voltage: 7.1 V"),
        ("max_charge_voltage: 14.6 V, ", ""),
        plan=CHARGE,
    )
    assert bool(found(plan, DC)) == fires


def test_where_its_style_breaks_too_little_another_is_proposed() -> None:
    """A cartridge of a house breaks some 1000 A, marked for direct current or not."""
    plan = edited(
        (
            "voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true",
            "voltage: 500 V, style: cartridge, dc: false",
        ),
        plan=CHARGE,
    )
    [finding] = found_beside_all(plan, DC)
    assert finding.remedy.startswith("use a wide bolt-down strip fuse")
    assert [(c.key, c.text) for c in finding.ways[0] if isinstance(c, Change)] == [
        ("style", "wide-strip"),
        ("voltage", "32 V"),
        ("interrupt", "6 kA"),
        ("dc", "true"),
    ]


@pytest.mark.parametrize(("equalise", "told"), [("", []), (", equalise_voltage: 16 V", ["error"])])
def test_the_voltage_to_which_a_bank_is_equalised_counts(equalise: str, told: list[str]) -> None:
    plan = edited(
        (", voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true", ", voltage: 15.5 V"),
        ("charge_voltage: 14.2 V, b", f"charge_voltage: 14.2 V{equalise}, b"),
        plan=CHARGE,
    )
    assert levels(plan, DC) == told


def _lead_of_48_v(*edits: tuple[str, str]) -> str:
    """A bank of lead in a place of -15 °C behind a fuse for 58 V, charged to 57.6 V."""
    return edited(
        ("lithium-iron-phosphate, nominal: 12.8 V", "agm, nominal: 48 V"),
        ("max_charge_voltage: 14.6 V", "max_charge_voltage: 57.6 V"),
        ("charge_voltage: 14.2 V, b", "charge_voltage: 57.6 V, compensates_temperature: true, b"),
        ("voltage: 125 V, style: class-t", "voltage: 58 V, style: class-t"),
        *edits,
        plan=CHARGE,
    )


FOLLOWS = "compensates_temperature: true"


@pytest.mark.parametrize(
    ("edits", "reaches"),
    [
        ((), "61."),
        (((FOLLOWS, "compensation: -20 mV/°C"),), "58."),
        (((FOLLOWS, "compensation: 0 mV/°C"),), None),
        (((FOLLOWS, "compensation: -1 mV/°C, equalise_voltage: 57.9 V"),), None),
        (((FOLLOWS, "compensates_temperature: false"),), None),
        (((f"{FOLLOWS}, ", ""),), None),
        ((("chemistry: agm", "chemistry: lithium-iron-phosphate"),), None),
    ],
)
def test_lead_is_charged_higher_in_the_cold_where_its_charger_says_so(
    edits: tuple[tuple[str, str], ...], reaches: str | None
) -> None:
    findings = found(_lead_of_48_v(*edits), DC)
    assert len(findings) == (0 if reaches is None else 1)
    if reaches is not None:
        assert f"brings its circuit to {reaches}" in findings[0].message
        assert findings[0].message.endswith(" V in the cold")


def test_a_warm_place_raises_nothing() -> None:
    warm = ("cabin: {", "cabin: {coldest: 25 °C, ")
    assert not found(_lead_of_48_v(warm, ("house: {", "house: {place: cabin, ")), DC)


@pytest.mark.parametrize(("stands", "fires"), [("15 V", False), ("14 V", True)])
def test_a_consumer_that_stands_less_than_its_bank_is_charged_to(stands: str, fires: bool) -> None:
    """A lamp that stands 14 V is no part of a system of 14 V, and hurts nobody where it fails."""
    lamp = f"loads:\n  lamp: {{current: 1 A, nominal: 12 V, max_voltage: {stands}}}\nwires:\n"
    run = "  lamp-run: {from: house, to: lamp, cable: batt-8, length: 1 m, place: cabin}\n"
    findings = [f for f in found(edited(("wires:\n", lamp + run)), DC) if "`lamp`" in f.message]
    assert [(f.level, f.hazard) for f in findings] == ([("error", "damage")] if fires else [])
