"""Welding cable as fixed wiring."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study

BASIS = {
    "nec-2023": Clause(
        "NEC 630.41; 400.12",
        "2008-2023",
        "cable that is listed for the secondary of welders is for that; flexible cable does not "
        "take the place of fixed wiring",
        verified=False,
    ),
    "abyc-e11": Clause(
        "ABYC E-11 (conductors); UL 1426",
        "2003 and later",
        "conductors on boats are boat cable of stranded, preferably tinned copper, or a type with "
        "marked oil, moisture and temperature rating",
        verified=False,
    ),
    "common practice": Clause(
        "ISO 13297; IEC 60364-5-52 521",
        "2022; 2009",
        "fixed wiring is of a type that is made and marked for it",
        verified=False,
    ),
}

SOUND = """\
wattproof: 1
setting: boat
code: abyc-e11
site: {coldest: -18 °C, hottest: 40 °C,
       places: {roof: {ambient: 60 °C, sunlight: true}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: marine, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap, place: roof}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, low_temperature_cutoff: true, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true,
          short_circuit_current: 5 kA}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="welding-cable-fixed",
    summary="Welding cable used as fixed wiring.",
    level="warning",
    hazard="legal",
    part="conductor",
    basis=BASIS,
    explanation="Welding cable bends easily and is cheap for its copper, so it is often used "
    "between battery and inverter. It is made to lie on a workshop floor for an hour, not to run "
    "for years through oil, damp and heat, and its bare copper strands draw in water. Inspectors "
    "of houses and surveyors of boats refuse it unless it is marked for fixed wiring as well.",
    sound=SOUND,
    faulty=Edit("batt-8: {size: 8 AWG, kind: marine", "batt-8: {size: 8 AWG, kind: welding"),
)
def welding_cable_fixed(study: Study) -> Iterator[Observation]:
    forbidden = study.code.forbids("welding-cable", study.plan.setting)
    sheets = {
        w.sheet.name: w.sheet for w in study.wiring.wires.values() if w.sheet.kind == "welding"
    }
    for name, sheet in sheets.items():
        wires = tuple(w for w in study.wiring.wires.values() if w.sheet is sheet)
        shown = ", ".join(f"`{w.name}`" for w in wires)
        yield Observation(
            message=f"welding cable `{name}` ({wires[0].size.name}) is the fixed wiring of {shown}",
            on=wires,
            level=None if forbidden else "note",
            remedy=Remedy(
                f"use {wires[0].size.name} of boat cable or battery cable; where it is marked "
                "for fixed wiring too, write that kind",
                tuple(
                    tuple(Change(w.name, "cable.kind", kind) for w in wires)
                    for kind in ("marine", "battery")
                ),
            ),
        )
