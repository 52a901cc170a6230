"""Switches and inverters that open at low voltage, by the battery that they are to save."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "it opens above the voltage at which the battery is empty, and below that at which it rests"
    ),
}

MORE = """\
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  cables:
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
switches:
  low-off: {rating: 100 A, voltage: 32 V, dc: true, poles: 1, load_break: true,
            opens_below: 11.8 V}
fuses:
  lamp-fuse: {rating: 10 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
loads:
  lamp: {current: 2 A}
wires:
  lamp-run: {from: house, to: lamp, cable: batt-8, length: 1 m, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}, low-off]}
"""


@rule(
    id="low-voltage-switch-odd",
    summary="Voltage at which a switch or an inverter cuts off against the battery that it saves.",
    covers=("A switch set to save no battery",),
    level="warning",
    hazard="damage",
    part="switch",
    basis=BASIS,
    explanation="Such a switch looks at the voltage and nothing else. Set below the voltage of an "
    "empty battery it never opens in time, and the battery is drawn down until it is "
    "harmed. Set above the voltage of a full one at rest it opens as soon as the "
    "charger stops. Set for another system voltage it does one of the two.",
    fine="Where the makers of battery and switch name that voltage, measured under load.",
    since="0.2.0",
    sound=plan(
        "van-two-modules", Edit("max_charge_current: 50 A", "max_charge_current: 100 A"), more=MORE
    ),
    faulty=Edit("opens_below: 11.8 V", "opens_below: 21 V"),
)
def low_voltage_switch_odd(study: Study) -> Iterator[Observation]:
    for each in study.charging.low_switches:
        name, opens, bank = each.switch.name, each.opens, each.bank
        if exceeds(bank.least_at_inverters if each.is_inverter else bank.empty_voltage, opens):
            yield Observation(
                message=(
                    f"`{name}` opens below {opens}, and `{bank.name}` is empty at "
                    f"{bank.empty_voltage}: too late to save it"
                ),
                on=(each.switch, bank),
                values=(opens, bank.empty_voltage),
                remedy=f"set `{name}` to {bank.empty_voltage} or a little more",
            )
        elif not each.joins and exceeds(opens, bank.resting_voltage):
            yield Observation(
                message=(
                    f"`{name}` opens below {opens}, and `{bank.name}` rests at "
                    f"{bank.resting_voltage} when full: it never stays closed"
                ),
                on=(each.switch, bank),
                values=(opens, bank.resting_voltage),
                remedy=f"set `{name}` to between {bank.empty_voltage} and {bank.resting_voltage}",
            )
