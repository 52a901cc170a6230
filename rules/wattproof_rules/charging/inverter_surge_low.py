"""The hardest start against the power that an inverter gives for some seconds."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below

BASIS = {
    "common practice": practice(
        "motors and compressors ask for three to six times their running power for a second or "
        "two, and the surge power of the inverter covers the hardest of these starts"
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
          low_temperature_cutoff: true}
busbars:
  bar: {rating: 250 A, voltage: 60 V}
inverters:
  mains: {power: 800 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V,
          surge: 1600 W, largest_start: 1400 W}
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
    id="inverter-surge-low",
    summary="Power that the hardest start asks of an inverter against its surge power.",
    level="warning",
    hazard="lost-energy",
    part="controller",
    basis=BASIS,
    explanation="A motor at rest is little more than a coil of wire: until it turns it takes three "
    "to six times what it takes when running. An inverter gives more than its rating for some "
    "seconds, by its surge power, and switches off when that is not enough. Then all that hangs on "
    "it goes dark, and the motor that did not start tries again a minute later.",
    caution=notice("A motor that tries in vain to start again and again burns its windings."),
    sound=SOUND,
    faulty=Edit("largest_start: 1400 W", "largest_start: 2000 W"),
)
def inverter_surge_low(study: Study) -> Iterator[Observation]:
    for start in study.charging.starts:
        inverter, asked, given = start.inverter, start.asked, start.given
        if not exceeds(asked, given):
            continue
        yield Observation(
            message=f"the hardest start asks `{inverter.name}` for {asked}, and it gives {given}",
            on=(inverter,),
            values=(asked, given),
            margin=margin_below(asked, given),
            remedy=_remedy(str(inverter.name), f"{math.ceil(asked.number - 1e-9)} W"),
        )


def _remedy(inverter: str, watts: str) -> Remedy:
    return Remedy(
        f"use an inverter with a surge power of at least {watts}, or a soft start on the motor; "
        "start nothing else beside it",
        ((Change(inverter, "surge", watts),),),
    )
