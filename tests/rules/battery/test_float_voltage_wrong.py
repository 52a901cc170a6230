"""Voltage at which a full battery is held, by its kind."""

from __future__ import annotations

import pytest

from rule_runs import levels, sound

RULE = "float-voltage-wrong"
LITHIUM = ("chemistry: agm, nominal: 12 V", "chemistry: lithium-iron-phosphate, nominal: 12.8 V")


@pytest.mark.parametrize(
    ("volts", "expected"),
    [("13.9 V", []), ("14.0 V", ["warning"]), ("13.2 V", []), ("12.9 V", ["note"])],
)
def test_lead(volts: str, expected: list[str]) -> None:
    plan = sound(RULE, ("float_voltage: 13.6 V", f"float_voltage: {volts}"))
    assert levels(plan, RULE) == expected


@pytest.mark.parametrize(("volts", "expected"), [("13.5 V", []), ("14.2 V", ["note"])])
def test_lithium_only_ages(volts: str, expected: list[str]) -> None:
    plan = sound(RULE, ("float_voltage: 13.6 V", f"float_voltage: {volts}"), LITHIUM)
    assert levels(plan, RULE) == expected


def test_a_voltage_that_is_not_told_is_not_judged() -> None:
    assert not levels(sound(RULE, (", float_voltage: 13.6 V", "")), RULE)


@pytest.mark.parametrize(
    ("volts", "expected"), [("14.3 V", "note"), ("14.4 V", "warning"), ("14.7 V", "warning")]
)
def test_lithium_held_at_what_charges_it_full(volts: str, expected: str) -> None:
    plan = sound(RULE, ("float_voltage: 13.6 V", f"float_voltage: {volts}"), LITHIUM)
    assert levels(plan, RULE) == [expected]


@pytest.mark.parametrize("chemistry", [LITHIUM, ("nominal: 12 V", "nominal: 12 V")])
@pytest.mark.parametrize("volts", ["14.8 V", "27.2 V"])
def test_over_what_the_label_allows_at_all(volts: str, chemistry: tuple[str, str]) -> None:
    """A float for another system voltage: the battery is overcharged for days."""
    plan = sound(RULE, ("float_voltage: 13.6 V", f"float_voltage: {volts}"), chemistry)
    assert levels(plan, RULE) == ["error"]


SINGLE = """\
wattproof: 1
setting: cabin
datasheets: {cables: {c: {size: 16 mm²}}}
controllers: {tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 10 A,
                        charge_voltage: 14.4 V, float_voltage: VOLTS}}
strings: {roof: {module: m}}
batteries:
  a: {chemistry: flooded, nominal: 6 V, capacity: 200 Ah}
  b: {chemistry: flooded, nominal: 6 V, capacity: 200 Ah}
wires:
  pv: {from: roof, to: tracker.pv, cable: c, length: 1 m}
  link: {from: a.negative, to: b.positive, cable: c, length: 10 cm}
  plus: {from: tracker.battery.positive, to: a.positive, cable: c, length: 1 m}
  minus: {from: tracker.battery.negative, to: b.negative, cable: c, length: 1 m}
""".replace("datasheets: {", "datasheets: {modules: {m: {voc: 22 V, isc: 6 A}}, ")


@pytest.mark.parametrize(("volts", "expected"), [("13.6 V", []), ("27 V", ["error"])])
def test_batteries_of_six_volts_that_are_declared_apart(volts: str, expected: list[str]) -> None:
    """Each was taken for one of 12 V."""
    plan = SINGLE.replace("VOLTS", volts)
    assert [level != "note" for level in levels(plan, RULE)] == [True for _ in expected]
