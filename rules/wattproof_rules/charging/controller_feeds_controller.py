"""Modules with a regulator built on, plugged into the solar input of a controller."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.remedies.proposals import labelled
from wattproof.rule import Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy

BASIS = {
    "common practice": practice(
        "one controller stands between modules and battery: the output of a regulator is never "
        "led into the solar input of another"
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
                regulated: false}
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
    id="controller-feeds-controller",
    summary="Whether a module with a regulator of its own feeds a controller's solar input.",
    level="error",
    hazard="damage",
    part="controller",
    basis=BASIS,
    explanation="A regulator on the back of a module expects a battery at its output, whose "
    "voltage tells it what to do. Behind a second controller it sees none: it switches on and "
    "off, or holds a voltage that the second one takes for a weak array. At best little is "
    "charged; at worst one of the two is destroyed by the voltage swings of the other.",
    caution=notice("Two controllers in a row can destroy each other."),
    sound=SOUND,
    faulty=Edit("regulated: false", "regulated: true"),
)
def controller_feeds_controller(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        regulated = {
            str(s.source.string.name): s.source.string
            for s in array.all_strings
            if any(m.sheet.regulated for m in s.modules)
        }
        if not regulated:
            continue
        names = " and ".join(f"`{name}`" for name in regulated)
        yield Observation(
            message=f"{names} has a regulator built on and feeds the solar input of "
            f"`{array.controller.name}`, which is a second one",
            on=(array.controller, *regulated.values()),
            remedy=_remedy(array),
        )


def _remedy(array: ArrayStudy) -> Remedy:
    words = (
        f"bypass the regulator, so that the module's own leads reach `{array.controller.name}`, "
        "where its maker allows that; or lead its output straight to the battery, through a fuse "
        "at the battery"
    )
    bypassed = dict.fromkeys(
        change
        for string in array.all_strings
        for module in string.modules
        if module.sheet.regulated
        for change in labelled([string.source.string], module, "regulated", "false")
    )
    return Remedy(words, (tuple(bypassed),))
