"""The best point of a shaded array, at a voltage that its controller cannot use."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value

BASIS = {
    "common practice": practice(
        "enough modules are in series that those left when some are shaded still give more than "
        "the battery's voltage and the tracker's margin"
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
                pmax_coefficient: -0.36 %/°C, bypass_diodes: 2,
                cells_in_series: 36, max_series_fuse: 15 A, max_system_voltage: 600 V}
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
shade:
  roof-box: {shadows: [{string: roof-string, module: 1, light: 90 %},
                       {string: roof-string, module: 2, groups: 1, light: 90 %}]}
"""


@record
class Limits:
    """What a project may set."""

    lost: float = option(0.20, "Share of the shaded array's best power that may be out of reach.")


@rule(
    id="shaded-peak-under-window",
    summary="Voltage of a shaded array at its best point against what its controller needs.",
    level="warning",
    hazard="lost-energy",
    part="string",
    basis=BASIS,
    explanation="Bypass diodes lead the current around what is shaded, and the voltage of those "
    "modules is then missing. The best point of what is left may lie under the voltage of the "
    "battery, where a controller that only lowers voltage cannot go. It then works at a far worse "
    "point, or stops, although half the array lies in full sun.",
    sound=SOUND,
    faulty=Edit(
        "module: 1, light: 90 %},\n                       {string: roof-string, module: 2, "
        "groups: 1, light: 90 %}",
        "module: 1, light: 10 %},\n                       {string: roof-string, module: 2, "
        "groups: 1, light: 10 %}",
    ),
    options=Limits,
)
def shaded_peak_under_window(study: Study, limits: Limits) -> Iterator[Observation]:
    if not study.plan.shade:
        return
    for array in study.array.arrays:
        curves = study.curves.curve_of(array)
        if curves is None or curves.window.needed is None or array.controller.kind == "pwm":
            continue
        needed = curves.window.needed
        for case in study.plan.shade.values():
            shaded = curves.shaded(case)
            point = shaded.operating if shaded is not None else None
            if shaded is None or point is None or not exceeds(needed, shaded.peak_voltage):
                continue
            lost = 1.0 - point.power / shaded.power
            lost = lost.named(f"lost({case.name})", "share of the best power out of reach", "%")
            if not exceeds(lost, limits.lost):
                continue
            yield Observation(
                message=f"under `{case.name}` the {array.name} is best at {shaded.peak_voltage}, "
                f"and `{array.controller.name}` needs {needed}: {_percent(lost)} of {shaded.power} "
                "is out of its reach",
                on=(case, array.controller, *array.declared_strings),
                values=(shaded.peak_voltage, needed, lost),
                margin=margin_below(lost, limits.lost),
                remedy=_remedy(array),
            )


def _remedy(array: ArrayStudy) -> str:
    count = array.in_series()
    return (
        f"put more than {count} in series where the controller's limit allows, use a controller "
        "that can raise the voltage, or move what throws the shadow"
    )


def _percent(share: Value) -> str:
    return f"{share.number * 100.0:.0f} %"
