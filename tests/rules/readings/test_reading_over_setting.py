"""Voltage read while it charges, against the charge voltage that the plan tells."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES
from rule_runs import found_beside_all as found
from rules.readings.plans import EXACT, read

OVER = "reading-over-setting"
OVERCHARGED = "reading-battery-overcharged"


@pytest.mark.parametrize(
    ("text", "level"),
    [
        # 14.2 V and a hundredth: 14.342 V.
        (f"at: tracker.battery, voltage: 14.34 V, {EXACT}", None),
        (f"at: tracker.battery, voltage: 14.35 V, {EXACT}", "note"),
        ("at: tracker.battery, voltage: 14.41 V", None),  # half a per cent of the meter
        ("at: tracker.battery, voltage: 14.42 V", "note"),
        (f"at: tracker.battery, voltage: 14.61 V, {EXACT}", "warning"),  # the battery's label
        (f"at: house, voltage: 14.5 V, {EXACT}", "note"),
        (f"at: tracker.battery, voltage: -15 V, {EXACT}", None),
    ],
)
def test_more_than_is_set(text: str, level: str | None) -> None:
    assert [f.level for f in found(read(text), OVER)] == ([level] if level else [])


@pytest.mark.parametrize(
    "text",
    [f"at: house, voltage: 14.61 V, {EXACT}", f"at: tracker.battery, voltage: 16.0 V, {EXACT}"],
)
def test_what_overcharges_for_certain_is_told_once(text: str) -> None:
    assert not found(read(text), OVER)
    assert found(read(text), OVERCHARGED)


def test_nothing_where_a_source_does_not_tell_its_setting() -> None:
    text = read(f"at: tracker.battery, voltage: 14.5 V, {EXACT}")
    assert not found(text.replace("charge_voltage: 14.2 V, ", ""), OVER)
    alternator = "chargers:\n  engine: {kind: alternator, max_output_current: 30 A}\nwires:\n"
    wire = "  engine-run: {from: engine, to: house, cable: batt-8, length: 2 m, place: cabin}\n"
    both = text.replace("wires:\n", f"{alternator}{wire}")
    assert not found(both, OVER)
    told = both.replace("kind: alternator,", "kind: alternator, charge_voltage: 14.3 V,")
    assert found(told, OVER)  # 14.443 V
    assert not found(told.replace("voltage: 14.3 V", "voltage: 14.4 V"), OVER)


@pytest.mark.parametrize(
    ("volts", "more", "source", "level"),
    [
        # 14.4 V, a hundredth, and 43 K of 24 mV in the coldest air: 15.576 V.
        ("15.57 V", "", "", None),
        ("15.59 V", "", "", "note"),
        # 25 K of it: 15.144 V.
        ("15.14 V", ", air_temperature: 0 °C", "", None),
        ("15.15 V", ", air_temperature: 0 °C", "", "note"),
        ("14.55 V", ", air_temperature: 30 °C", "", "note"),
        # It follows no temperature: 14.544 V.
        ("14.54 V", "", ", compensates_temperature: false", None),
        ("14.55 V", "", ", compensates_temperature: false", "note"),
        ("15.59 V", ", stage: equalise", "", None),
    ],
)
def test_lead_in_the_cold(volts: str, more: str, source: str, level: str | None) -> None:
    plan = edited(
        (
            "chemistry: lithium-iron-phosphate, nominal: 12.8 V",
            "chemistry: flooded, nominal: 12 V",
        ),
        ("max_charge_voltage: 14.6 V, low_temperature_cutoff: true", "max_charge_voltage: 14.8 V"),
        ("charge_voltage: 14.2 V", f"charge_voltage: 14.4 V{source}"),
        ("voltage: 14.2 V, stage: absorption", f"voltage: {volts}{more}, {EXACT}"),
        plan=RULES.rules[OVER].sound,
    )
    assert [f.level for f in found(plan, OVER)] == ([level] if level else [])


@pytest.mark.parametrize(
    ("volts", "stage", "level"),
    [
        # 13.5 V and a hundredth, and half of the last digit: 13.64 V.
        ("13.63 V", "float", None),
        ("13.65 V", "float", "note"),
        ("14.2 V", "float", "note"),
        ("14.2 V", "unknown", None),
    ],
)
def test_float_is_held_at_its_own_voltage(volts: str, stage: str, level: str | None) -> None:
    plan = read(f"at: tracker.battery, voltage: {volts}, stage: {stage}, {EXACT}")
    plan = plan.replace("charge_voltage: 14.2 V", "charge_voltage: 14.2 V, float_voltage: 13.5 V")
    findings = found(plan, OVER)
    assert [f.level for f in findings] == ([level] if level else [])
    assert all("in float, over the 13.6 V" in f.message for f in findings)
    untold = plan.replace(", float_voltage: 13.5 V", "")
    assert not found(untold, OVER)


@pytest.mark.parametrize(
    ("volts", "stage", "level"),
    [
        # 14.2 V less three hundredths: 13.774 V.
        ("13.78 V", "absorption", None),
        ("13.76 V", "absorption", "note"),
        ("13.2 V", "bulk", None),
        ("0 V", "absorption", None),  # nothing arrives, which is said elsewhere
    ],
)
def test_absorption_is_held_at_what_is_set(volts: str, stage: str, level: str | None) -> None:
    findings = found(read(f"at: tracker.battery, voltage: {volts}, stage: {stage}, {EXACT}"), OVER)
    assert [f.level for f in findings] == ([level] if level else [])
    assert all("in absorption, under the 13.8 V" in f.message for f in findings)


@pytest.mark.parametrize(
    ("volts", "more", "source", "level"),
    [
        # 14.4 V less three hundredths, 13.968 V, and 15 K of 24 mV less in 40 °C: 13.608 V.
        ("13.62 V", ", air_temperature: 40 °C", "", None),
        ("13.59 V", ", air_temperature: 40 °C", "", "note"),
        ("13.96 V", "", ", compensates_temperature: false", "note"),
        ("13.98 V", "", ", compensates_temperature: false", None),
        # 25 K of 24 mV more in 0 °C, where it says that it follows: 14.568 V; as set, 14.718 V.
        ("14.00 V", ", air_temperature: 0 °C", "", None),
        ("14.55 V", ", air_temperature: 0 °C", ", compensates_temperature: true", "note"),
        ("14.58 V", ", air_temperature: 0 °C", ", compensates_temperature: true", None),
        ("14.70 V", ", air_temperature: 0 °C", ", compensation: -30 mV/°C", "note"),
        ("14.73 V", ", air_temperature: 0 °C", ", compensation: -30 mV/°C", None),
        ("14.00 V", "", ", compensation: -24 mV/°C", None),  # the hottest air of the plan
    ],
)
def test_lead_is_held_by_its_heat(volts: str, more: str, source: str, level: str | None) -> None:
    plan = edited(
        (
            "chemistry: lithium-iron-phosphate, nominal: 12.8 V",
            "chemistry: flooded, nominal: 12 V",
        ),
        ("max_charge_voltage: 14.6 V, low_temperature_cutoff: true", "max_charge_voltage: 14.8 V"),
        ("charge_voltage: 14.2 V", f"charge_voltage: 14.4 V{source}"),
        (
            "voltage: 14.2 V, stage: absorption",
            f"voltage: {volts}, stage: absorption{more}, {EXACT}",
        ),
        plan=RULES.rules[OVER].sound,
    )
    assert [f.level for f in found(plan, OVER)] == ([level] if level else [])


@pytest.mark.parametrize(
    ("chemistry", "is_told"), [("flooded", False), ("agm", True), ("gel", True)]
)
def test_equalising_is_for_flooded_lead_alone(chemistry: str, is_told: bool) -> None:
    plan = edited(
        (
            "chemistry: lithium-iron-phosphate, nominal: 12.8 V",
            f"chemistry: {chemistry}, nominal: 12 V",
        ),
        ("max_charge_voltage: 14.6 V, low_temperature_cutoff: true", "max_charge_voltage: 14.6 V"),
        (
            "voltage: 14.2 V, stage: absorption",
            f"voltage: 15.5 V, stage: equalise, air_temperature: 25 °C, {EXACT}",
        ),
        plan=RULES.rules[OVER].sound,
    )
    assert ["while equalising" in f.message for f in found(plan, OVER)] == [True] * is_told
