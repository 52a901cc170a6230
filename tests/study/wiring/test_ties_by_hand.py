"""A switch by hand between two banks is most often open: it holds nothing that is lost without it.

A starting battery with its starter, and a house bank with an array, each complete in itself.
"""

from __future__ import annotations

import pytest

from rule_runs import found

PLAN = """\
wattproof: 1
setting: boat
code: abyc-e11
site: {coldest: -5 °C, hottest: 35 °C}
datasheets:
  modules:
    m: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, voc_coefficient: -0.29 %/°C,
        max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    sun: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V}
    lead: {size: 1/0 AWG, kind: battery, insulation_temperature: 105 °C, voltage: 600 V}
strings:
  deck: {module: m, series: 1, mounting: roof-gap}
controllers:
  sun: {kind: KIND, max_input_voltage: 75 V, max_output_current: 20 A, charge_voltage: 14.4 V}
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
  house: {chemistry: CHEMISTRY, nominal: 12 V, capacity: 100 Ah}
switches:
  tie: {rating: 300 A, dc: true, load_break: true}
  main: {rating: 300 A, dc: true, load_break: true}
busbars:
  plus: {rating: 300 A}
  minus: {rating: 600 A}
starters:
  engine: {current: 200 A}
chargers:
  wind: {kind: wind, max_output_current: 20 A, charge_voltage: 14.4 V}
loads:
  bilge: {current: 4 A, critical: true}
wires:
  home: {from: deck, to: sun.pv, cable: sun, length: 4 m}
  sun-run: {from: sun.battery.positive, to: plus, pole: positive, cable: lead, length: 1 m}
  sun-back: {from: sun.battery.negative, to: minus, pole: negative, cable: lead, length: 1 m}
  start-plus: {from: start.positive, to: engine.positive, cable: lead, length: 1 m}
  start-minus: {from: start.negative, to: minus, pole: negative, cable: lead, length: 1 m}
  engine-minus: {from: engine.negative, to: minus, pole: negative, cable: lead, length: 1 m}
  link: {from: start.positive, to: plus, pole: positive, cable: lead, length: 1 m, inline: [tie]}
  house-plus: {from: house.positive, to: plus, pole: positive, cable: lead, length: 1 m,
               inline: [main]}
  house-minus: {from: house.negative, to: minus, pole: negative, cable: lead, length: 1 m}
  wind-plus: {from: wind.positive, to: plus, pole: positive, cable: lead, length: 1 m}
  wind-minus: {from: wind.negative, to: minus, pole: negative, cable: lead, length: 1 m}
  bilge-plus: {from: plus, to: bilge.positive, pole: positive, cable: lead, length: 1 m}
  bilge-minus: {from: minus, to: bilge.negative, pole: negative, cable: lead, length: 1 m}
"""
LEAD = PLAN.replace("CHEMISTRY", "agm").replace("KIND", "mppt")
BY_VOLTAGE = ("tie: {rating: 300 A", "tie: {closes_above: 13.4 V, rating: 300 A")
FOR_GOOD = (", inline: [tie]", "")


@pytest.mark.parametrize(
    ("rule", "by_relay"),
    [
        ("alternator-can-lose-battery", False),  # the wind closes the relay
        ("critical-load-can-be-cut-off", True),  # it is open at anchor
        ("battery-switch-strands-controller", True),  # with the relay, both are named
    ],
)
def test_the_main_switch_takes_the_bank_though_a_tie_could_give_the_other(
    rule: str, *, by_relay: bool
) -> None:
    assert [f for f in found(LEAD, rule) if "main" in f.subjects]
    assert bool(found(LEAD.replace(*BY_VOLTAGE), rule)) == by_relay
    assert not found(LEAD.replace(*FOR_GOOD), rule)


def test_lithium_that_cuts_off_is_not_held_by_what_a_tie_could_join() -> None:
    kept = PLAN.replace("CHEMISTRY", "lithium-iron-phosphate").replace("KIND", "mppt")
    kept = kept.replace(
        "nominal: 12 V, capacity: 100 Ah}\nsw", "nominal: 12.8 V, capacity: 100 Ah}\nsw"
    )
    kept = kept.replace(",\n               inline: [main]", "").replace(
        "  main: {rating: 300 A, dc: true, load_break: true}\n", ""
    )
    [finding] = found(kept, "alternator-can-lose-battery")
    assert "charges `house` alone, lithium" in finding.message
    assert not found(kept.replace(*FOR_GOOD), "alternator-can-lose-battery")


def test_loads_stay_on_the_bare_array_with_the_main_switch_open() -> None:
    direct = PLAN.replace("CHEMISTRY", "agm").replace("KIND", "pwm")
    [finding] = found(direct, "battery-taken-away-in-sun")
    assert "with `house` cut off by `main` in sun" in finding.message
    assert not found(direct.replace(*FOR_GOOD), "battery-taken-away-in-sun")


def test_a_battery_that_is_unplugged_leaves_what_a_tie_could_join() -> None:
    plugged = LEAD.replace("capacity: 100 Ah}\nsw", "capacity: 100 Ah, removable: true}\nsw")
    rule = "battery-switch-strands-controller"
    assert [f for f in found(plugged, rule) if "`house` can be unplugged" in f.message]
    joined = found(plugged.replace(*FOR_GOOD), rule)
    assert not [f for f in joined if "can be unplugged" in f.message]
