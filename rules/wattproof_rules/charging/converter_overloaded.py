"""DC converters, by what hangs on them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below

BASIS = {
    "common practice": practice(
        "a converter gives at least what all that hangs on it draws at once"
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C},
       engine: {engine_space: true, ambient: 60 °C}}}
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A,
                max_system_voltage: 600 V}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 2, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 30 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  step-fuse: {rating: 30 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 100 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
converters:
  step-up: {input_nominal: 12 V, output_nominal: 24 V, max_output_current: 8 A, efficiency: 90 %}
loads:
  radio: {current: 6 A, nominal: 24 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  step-run: {from: house, to: step-up.input, cable: batt-8, length: 1 m, place: cabin,
             inline: [{step-fuse: {from_end: from, distance: 10 cm}}]}
  radio-run: {from: step-up.output, to: radio, cable: pv-10, length: 2 m, place: cabin}
"""


@rule(
    id="converter-overloaded",
    summary="Current of the loads on a DC converter against what it gives.",
    level="warning",
    hazard="damage",
    part="controller",
    basis=BASIS,
    explanation="A converter has no battery behind it to help out. When more is asked than it "
    "gives, its voltage falls or it switches off, and everything on it goes at once: "
    "a radio in the middle of a call, a lamp, a pump. Running at its limit for hours "
    "it gets hot and ages fast.",
    sound=SOUND,
    faulty=Edit("radio: {current: 6 A", "radio: {current: 10 A"),
)
def converter_overloaded(study: Study) -> Iterator[Observation]:
    for each in study.charging.converted:
        if not exceeds(each.current, each.output):
            continue
        name, amps = each.converter.name, f"{math.ceil(each.current.number - 1e-9)} A"
        yield Observation(
            message=f"what hangs on `{name}` draws {each.current} together, and it gives "
            f"{each.output}",
            on=(each.converter, *each.consumers),
            values=(each.current, each.output),
            margin=margin_below(each.current, each.output),
            remedy=f"use a converter of at least {amps}, with fuse and wires for that",
        )
