"""Temperatures of cells as told, against the air and what modules reach."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof.working import declared

BASIS = {
    "common practice": practice(
        "cells in full sun are 20 to 50 K hotter than the air; labels tell 41 to 50 °C as their "
        "nominal operating temperature"
    ),
}

LEAST = 5.0
"""Least by which cells in full sun are hotter than the air (K)."""

LOW, HIGH = 36.0, 58.0
"""Nominal operating cell temperatures beyond which a label is doubtful (°C)."""

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
                max_system_voltage: 600 V,
                noct: 45 °C}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 2, mounting: roof-gap,
                hottest_cells: 72 °C}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 30 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 100 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="cell-temperature-odd",
    summary="Told temperatures of cells against the hottest air, and against usual labels.",
    level="warning",
    hazard="lost-energy",
    part="module",
    basis=BASIS,
    explanation="Cells in the sun are always hotter than the air: they turn four fifths of the "
    "light into heat. Whoever writes the temperature of the air, or that of the "
    "label's test, for the cells makes the voltage on a hot day look higher than it "
    "will be, and a controller that cannot charge then passes as one that can.",
    sound=SOUND,
    faulty=Edit("hottest_cells: 72 °C", "hottest_cells: 35 °C"),
)
def cell_temperature_odd(study: Study) -> Iterator[Observation]:
    air = study.site.climate.hottest_air
    for array in study.array.arrays:
        for string in array.declared_strings:
            if string.hottest_cells is None:
                continue
            told = declared(string.hottest_cells, f"Tcell({string.name})", "hottest cells, as told")
            if exceeds(air + LEAST, told):
                yield Observation(
                    message=f"the cells of `{string.name}` are told as {told} at their hottest, "
                    f"and the air there reaches {air}: in full sun they are 20 to 50 K above it",
                    on=(string,),
                    values=(told, air),
                    remedy="measure at the back of a module at noon, or leave `hottest_cells` out",
                )
    for module in study.array.modules.values():
        noct = module.sheet.noct
        if noct is not None and not LOW <= noct.value <= HIGH:
            told = declared(noct, f"NOCT({module.name})", "nominal operating cell temperature")
            yield Observation(
                message=f"the nominal operating cell temperature of `{module.name}` is told as "
                f"{told}, and labels say 41 to 50 °C",
                on=(module.sheet,),
                values=(told,),
                remedy="look at the label again; leave `noct` out where it tells none",
            )
