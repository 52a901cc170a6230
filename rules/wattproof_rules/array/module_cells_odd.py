"""The open-circuit voltage of each cell that a label stands for."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import labelled
from wattproof.rule import Edit, Observation, Remedy, practice, rule
from wattproof.study import Study
from wattproof.study.array.strings import ModuleStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import counted

BASIS = {
    "common practice": practice(
        "a crystalline cell has 0.55 to 0.76 V at open circuit, so that the voltage on a label "
        "tells how many are in series: 98 in a hundred of 20,946 crystalline modules in an open "
        "set do so, and most others count both halves of half cells"
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    rigid-100: {cells_in_series: 36, voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
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

LOWEST = 0.55  # V
HIGHEST = 0.76  # V


@rule(
    id="module-cells-odd",
    summary="Open-circuit voltage on a label for each of the cells in series.",
    level="note",
    hazard="damage",
    part="module",
    basis=BASIS,
    explanation="Each cell of silicon gives its own half to three quarters of a volt, whatever its "
    "size, and the module gives as many times that as cells follow one after another. Where the "
    "two numbers on a label do not fit, one of them is wrong: the cells were counted with both "
    "halves of half cells, or the voltage is that of two modules, or that of the battery.",
    sound=SOUND,
    faulty=Edit("cells_in_series: 36", "cells_in_series: 72"),
)
def module_cells_odd(study: Study) -> Iterator[Observation]:
    for module in study.array.modules.values():
        cells = module.sheet.cells_in_series
        if cells is None or module.sheet.technology != "crystalline":
            continue
        words = f"cells in series of {module.name}"
        count = counted(cells, cells.text, cells.place, "Ncells", words)
        each = (module.voc / count).named("Vcell", f"voltage of each cell of {module.name}", "V")
        if LOWEST <= each.number <= HIGHEST:
            continue
        yield Observation(
            message=f"{module.voc} over {int(cells)} cells in series makes {each} for each cell of "
            f"`{module.name}`; cells of silicon have {LOWEST:g} to {HIGHEST:g} V",
            on=(module.sheet,),
            values=(each,),
            margin=margin_below(each, HIGHEST)
            if exceeds(each, HIGHEST)
            else each.number / LOWEST - 1.0,
            remedy=_remedy(study, module, int(cells)),
        )


def _remedy(study: Study, module: ModuleStudy, cells: int) -> Remedy | str:
    """The usual miscount that fits, else the counts that would."""
    volts = module.voc.number
    for fitting in (cells // 2, cells * 2):
        if fitting and LOWEST <= volts / fitting <= HIGHEST:
            words = (
                f"count the cells again: {fitting} in series would fit; of half cells, those side "
                "by side count once"
            )
            users = study.array.users_of(module)
            return Remedy(words, (labelled(users, module, "cells_in_series", f"{fitting}"),))
    fewest, most = round(volts / HIGHEST + 0.5), max(1, int(volts / LOWEST))
    return f"read the label again: with that voltage it has {fewest} to {most} cells in series"
