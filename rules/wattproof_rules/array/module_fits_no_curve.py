"""A label whose values no curve of a solar cell passes through."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.array.label_coefficients import odd_coefficients
from wattproof.study.array.labels import contradictions, odd_fill_factor
from wattproof.study.array.strings import ModuleStudy

BASIS = {
    "common practice": practice(
        "the values of a label lie on the curve of a single diode with resistances; so do "
        "those of all but 15 of 20,946 crystalline modules in an open set"
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
strings:
  roof-string: {module: rigid-100, series: 2, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 30 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 20 A,
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
    id="module-fits-no-curve",
    summary="Whether the values on a label lie on one curve of a solar cell.",
    level="note",
    hazard="lost-energy",
    part="module",
    basis=BASIS,
    explanation="A solar cell behaves like a source of current beside a diode, and that fixes the "
    "shape of its curve between short circuit and open circuit. The label gives both ends and one "
    "point in between. Where no such curve passes through all three, a simpler one is drawn, and "
    "losses by shade and by unlike modules are rough. Each value alone may look sound, so the "
    "cause is usually a small slip or values of two different modules on one label.",
    sound=SOUND,
    faulty=Edit("vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A", "vmp: 19.4 V, isc: 5.2 A, imp: 5.15 A"),
)
def module_fits_no_curve(study: Study) -> Iterator[Observation]:
    for name, model in study.curves.models.items():
        module = study.array.modules[name]
        if not model.refusal or _told_already(module):
            continue
        drawn = "a simpler curve is drawn" if model.fit is not None else "none is drawn"
        yield Observation(
            message=f"{model.refusal}: Voc {module.voc}, Isc {module.isc}, Vmp {module.vmp}, "
            f"Imp {module.imp} of `{name}`; {drawn}",
            on=(study.array.users_of(module)[0], module.sheet),
            values=(
                (module.imp / module.isc).named("Imp/Isc", "share of the current", ""),
                (module.vmp / module.voc).named("Vmp/Voc", "share of the voltage", ""),
            ),
            remedy="read the label on the back of the module again, or ask its maker for its "
            "curve; sums of voltage and current hold meanwhile, losses by shade are rough",
        )


def _told_already(module: ModuleStudy) -> bool:
    """True where another finding says what is wrong with the label."""
    odd = odd_fill_factor(module) is not None or bool(odd_coefficients(module))
    return odd or bool(contradictions(module))
