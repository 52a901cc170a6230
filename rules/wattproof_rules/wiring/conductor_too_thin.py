"""Conductors that are too thin to stand being pulled and shaken."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.working import declared, tabled

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11.14",
        "2022",
        "single conductors are of 16 AWG or more; 18 AWG only inside a sheath or loom and no "
        "longer than 760 mm beyond it",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297",
        "2020",
        "single conductors have 1 mm² or more, those in a sheath of several 0.75 mm²",
        verified=False,
    ),
}

SOUND = """\
wattproof: 1
setting: boat
code: abyc-e11
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: marine, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
    thin: {size: 16 AWG, kind: marine, insulation_temperature: 105 °C, voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  lamp-fuse: {rating: 5 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
loads:
  lamp: {current: 0.5 A, nominal: 12 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  lamp-run: {from: house, to: lamp, cable: thin, length: 2 m, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]}
"""


@rule(
    id="conductor-too-thin",
    summary="Size of conductors against the thinnest that a boat's rules allow for their strength.",
    level="note",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="The current of a small lamp would go through a hair of copper. But what hangs "
    "along a boat is pulled at, stepped on and shaken for years, and a thin conductor breaks at "
    "its ends or chafes through. So the rules for boats set a least size that has nothing to do "
    "with current.",
    sound=SOUND,
    faulty=Edit("thin: {size: 16 AWG", "thin: {size: 18 AWG"),
)
def conductor_too_thin(study: Study) -> Iterator[Observation]:
    for wire in study.wiring.wires.values():
        enclosed = bool(wire.wire.enclosed)
        least = study.code.thinnest_conductor(enclosed=enclosed)
        if least is None or wire.size.area_mm2 >= least.size.area_mm2 * (1.0 - 1e-6):
            continue
        words = f"size of each conductor of {wire.name}"
        size = declared(wire.sheet.size, f"A({wire.name})", words)
        figure = least.figure
        limit = tabled(figure.value * 1e-6, "m²", "Amin", figure.what, figure.source)
        yield Observation(
            message=f"`{wire.name}` is of {size}; {least.size.name} is the thinnest that the rules "
            "for boats allow" + (" in a sheath" if enclosed else ""),
            on=(wire,),
            values=(size, limit),
            margin=wire.size.area_mm2 / least.size.area_mm2 - 1.0,
            remedy=Remedy(
                f"use {least.size.name} or more for `{wire.name}`",
                ((wire.in_size(least.size).as_change,),),
            ),
        )
