"""What passes the shunt of a battery monitor by."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.working import total

BASIS = {
    "common practice": practice(
        "the shunt of a monitor is the only thing on the negative of the battery; every load and "
        "charger is on its other side"
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
    bank-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  bank-fuse: {rating: 125 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_discharge_current: 100 A, max_charge_voltage: 14.6 V,
          low_temperature_cutoff: true, shunt: bank-run}
busbars:
  bar: {rating: 250 A, voltage: 60 V}
inverters:
  mains: {power: 800 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: bar, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  bank-run: {from: house, to: bar, cable: bank-1-0, length: 60 cm, place: cabin,
             inline: [{bank-fuse: {from_end: from, distance: 10 cm}}]}
  inverter-run: {from: bar, to: mains, cable: bank-1-0, length: 60 cm, place: cabin}
"""


@rule(
    id="shunt-bypassed",
    summary="Loads and chargers whose negative reaches a battery past the shunt of its monitor.",
    level="note",
    hazard="lost-energy",
    part="battery",
    basis=BASIS,
    explanation="A monitor counts what flows through its shunt, a piece of metal in the negative. "
    "What is tied to the battery's own post, or comes back through the chassis on its side, is not "
    "counted. After some days it shows a full battery that is empty, or an empty one that is full, "
    "and one believes it.",
    sound=SOUND,
    faulty=Edit(
        "charge-run: {from: tracker.battery, to: bar,",
        "charge-run: {from: tracker.battery, to: house,",
    ),
)
def shunt_bypassed(study: Study) -> Iterator[Observation]:
    for bank in study.battery.banks:
        past = [each for each in study.wiring.past_shunts if each.bank is bank]
        if not past:
            continue
        uncounted = total([each.current for each in past])
        words = f"current that the monitor of {bank.name} does not count"
        uncounted = uncounted.named(f"Ipast({bank.name})", words, "A")
        names = " and ".join(f"`{each.component.name}`" for each in past)
        yield Observation(
            message=f"the negative of {names} reaches `{bank.name}` past the shunt in "
            f"`{bank.battery.shunt}`: up to {uncounted} that its monitor does not count",
            on=(bank, *(each.component for each in past)),
            values=(uncounted,),
            remedy=f"move the negative of {names} to the other side of the shunt in "
            f"`{bank.battery.shunt}`",
        )
