"""The temperature coefficients on a label against those of real modules."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, notice, practice, rule
from wattproof.study import Study
from wattproof.study.array.label_coefficients import OddCoefficient, odd_coefficients
from wattproof.working import digits

BASIS = {
    "iec": Clause(
        "IEC 60891",
        "2021",
        "temperature coefficients of current, voltage and power are measured and stated with "
        "their unit, relative or absolute",
        verified=False,
    ),
    "common practice": practice(
        "open-circuit voltage falls by 0.20 to 0.50 % and power by 0.22 to 0.65 % for each kelvin, "
        "short-circuit current hardly changes; fewer than one in a hundred of 20,946 crystalline "
        "modules in an open set is otherwise"
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
    id="module-coefficient-odd",
    summary="Temperature coefficients on a label: sign, size and unit.",
    level="error",
    hazard="damage",
    part="module",
    basis=BASIS,
    explanation="Warm cells give less voltage and cold cells more; the current hardly changes. "
    "The coefficients on a label say by how much for each degree, and all modules of one kind are "
    "nearly alike in them. A lost minus sign turns the cold morning, when the voltage is highest, "
    "into the mildest hour. A point in the wrong place or another unit does the same by degrees.",
    caution=notice(
        "With a wrong coefficient the array's cold voltage is unknown, and a controller may be "
        "destroyed on the first clear frost."
    ),
    sound=SOUND,
    faulty=Edit("pmax_coefficient: -0.36 %/°C", "pmax_coefficient: 0.36 %/°C"),
)
def module_coefficient_odd(study: Study) -> Iterator[Observation]:
    for module in study.array.modules.values():
        for odd in odd_coefficients(module):
            low, high = (f"{digits(end * 100.0)} %/K" for end in odd.band)
            yield Observation(
                message=f"the label of `{module.name}` gives {odd.written.text} for {odd.of}, "
                f"which is {digits(odd.relative.number * 100.0)} %/K or {odd.absolute}; modules "
                f"have {low} to {high}",
                on=(study.array.users_of(module)[0], module.sheet),
                values=(odd.relative,),
                margin=odd.margin,
                remedy=_remedy(odd),
                level="error" if odd.certain else "warning",
            )


def _remedy(odd: OddCoefficient) -> str:
    """What the label most likely says."""
    ask = "read the datasheet again, its sign and its unit too, or ask the maker"
    return f"perhaps {odd.likely}: {ask}" if odd.likely else ask
