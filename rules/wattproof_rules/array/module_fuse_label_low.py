"""The maximum series fuse on a label against the module's own current."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, rule
from wattproof.study import Study
from wattproof.study.array.labels import contradictions
from wattproof.study.array.string_fuses import fuse_window
from wattproof.study.array.strings import ModuleStudy
from wattproof.study.limits import exceeds
from wattproof.study.site.climate import from_table

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(B)",
        "2014-2023",
        "a string fuse is at least 1.56 times the short-circuit current, and not above the "
        "maximum series fuse on the module",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62548, string protection",
        "2016",
        "a string fuse lies above 1.5 times the short-circuit current, and not above the maximum "
        "overcurrent protection rating of the module",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033, string protection",
        "2021",
        "a string fuse lies above 1.5 times the short-circuit current, and not above the maximum "
        "overcurrent protection rating of the module",
        verified=False,
    ),
    "common practice": Clause(
        "NEC 690.9(B); IEC 62548, string protection",
        "2023; 2016",
        "labels leave room for a fuse of about 1.5 times the short-circuit current",
        verified=False,
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
    id="module-fuse-label-low",
    summary="Maximum series fuse on a label against the fuse that the module's current asks for.",
    level="warning",
    hazard="fire",
    part="module",
    basis=BASIS,
    explanation="The label says how large a fuse may stand in a module's string, which is also "
    "what its wiring stands backwards. A fuse must be about one and a half times the module's own "
    "current, or the sun opens it on a bright day. Where the label lies below that, no fuse fits: "
    "it would be too small for the sun or too large for the module. Such a module can stand "
    "alone or in series, not beside several others.",
    sound=SOUND,
    faulty=Edit("max_series_fuse: 15 A", "max_series_fuse: 7 A"),
)
def module_fuse_label_low(study: Study) -> Iterator[Observation]:
    for module in study.array.modules.values():
        if module.sheet.max_series_fuse is None or contradictions(module):
            continue
        label = module.max_series_fuse
        window = fuse_window(module.name, module.isc, label, study.code)
        if not exceeds(window.lower, label):
            continue
        yield Observation(
            message=f"the label of `{module.name}` allows a fuse of {label} at most, and its "
            f"current of {module.isc} asks for one of {window.lower}: none fits",
            on=(study.array.users_of(module)[0], module.sheet),
            values=(label, window.lower),
            margin=label.number / window.lower.number - 1.0,
            remedy=f"{_parallel(module, study)}; ask the maker whether the label is right",
            level=None if _beside_others(module, study) else "note",
        )


def _beside_others(module: ModuleStudy, study: Study) -> bool:
    """True where an array that it is in has strings in parallel."""
    return any(a.in_parallel() > 1 for a in study.array.arrays if module in a.modules)


def _parallel(module: ModuleStudy, study: Study) -> str:
    """How many strings of it may stand side by side without fuses."""
    one = from_table(study.code.reverse_current_factor, "krev") * module.isc
    most = int(module.max_series_fuse.number / one.number * (1.0 + 1e-9)) + 1 if one.number else 1
    if most < 2:
        return "put it in series only, or give each string a controller of its own"
    return f"join at most {most} strings of it in parallel, without fuses"
