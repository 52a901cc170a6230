"""Flexible modules glued flat to a skin, and the heat of their cells."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.array.strings import StringStudy
from wattproof.study.assumptions.modules import NO_MOUNTING
from wattproof.working import total

BASIS = {
    "common practice": practice(
        "flexible modules are laid on a spacer that lets air under them and can be renewed, not "
        "glued flat to a roof that moves and heats them"
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
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V,
                build: flexible, bypass_diodes: 2}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="flexible-module-bonded",
    summary="Cells of flexible modules that are glued flat to a skin, against those over a gap.",
    level="note",
    hazard="lost-energy",
    part="module",
    basis=BASIS,
    explanation="A module turns most of the light into heat, and gets rid of it by the air at its "
    "back. Glued to a roof it has none, and every degree costs it power. The thin cells bend with "
    "the roof, crack, and make hot spots that no glass holds back; the plastic over them clouds "
    "and scorches. Glued on, a module that has failed does not come off in one piece.",
    caution=notice("Hot spots in a cracked flexible module can scorch through it and the roof."),
    sound=SOUND,
    faulty=Edit("mounting: roof-gap", "mounting: roof-bonded"),
)
def flexible_module_bonded(study: Study) -> Iterator[Observation]:
    strings = {s.source.string.name: s for array in study.array.arrays for s in array.all_strings}
    for string in strings.values():
        soft = any(module.sheet.build == "flexible" for module in string.modules)
        if soft and string.source.string.mounting == "roof-bonded":
            yield _glued(study, string)


def _glued(study: Study, string: StringStudy) -> Observation:
    unstated = study.assume.noted(NO_MOUNTING, string.name, string.at)
    glued = string.cells("hottest")
    spaced = study.site.climate.hot_cells("roof-gap", unstated)
    hotter = (glued - spaced).named("ΔTglue", "how much hotter than with a gap", "K")
    volts = string.vmp("hottest")
    better = total([module.vmp_at(spaced) for module in string.modules])
    better = better.named(f"Vmpgap({string.name})", f"hot voltage of {string.name} over a gap", "V")
    return Observation(
        message=f"the flexible modules of `{string.name}` are glued to a skin: their cells reach "
        f"{glued}, {hotter} more than over a gap, and give {volts} instead of {better}",
        on=(string.source.string,),
        values=(glued, hotter, volts, better),
        remedy=Remedy(
            "lay them on a spacer or a twin-wall sheet that lets air under them, and write "
            "`mounting: roof-gap`",
            ((Change(string.name, "mounting", "roof-gap"),),),
        ),
    )
