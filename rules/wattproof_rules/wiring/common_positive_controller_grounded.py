"""Negatives of a controller with a common positive that are tied past the controller."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.wiring.grounding import TiedPole

BASIS = {
    "common practice": practice(
        "a controller whose positives are common switches the negatives; its array and load "
        "negatives are joined to nothing else"
    ),
}

WHAT = {"pv": "array", "load": "load"}

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
  roof-string: {module: rigid-100, series: 1, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  regulator: {kind: pwm, max_input_voltage: 50 V, max_output_current: 20 A, charge_voltage: 14.4 V,
              load_current: 15 A, blocks_reverse: true, common: negative}
batteries:
  house: {chemistry: flooded, nominal: 12 V, capacity: 110 Ah, max_charge_current: 25 A,
          max_charge_voltage: 14.8 V}
loads:
  lights: {current: 3 A, nominal: 12 V}
wires:
  home-run: {from: roof-string, to: regulator.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: regulator.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  lights-feed: {from: regulator.load.positive, to: lights.positive, cable: pv-10, length: 3 m,
                place: cabin}
  lights-return: {from: lights.negative, to: house.negative, cable: pv-10, length: 3 m,
                  place: cabin}
  load-return: {from: regulator.load.negative, to: lights.negative, cable: pv-10, length: 3 m,
                place: cabin}
"""


@rule(
    id="common-positive-controller-grounded",
    summary="Array and load negatives of a controller with a common positive, tied elsewhere.",
    level="error",
    hazard="fire",
    part="bonding",
    basis=BASIS,
    explanation="A controller has its switch in one of the two poles; the other runs straight "
    "through. Where the positive runs through, the switch is in the negative, so array, load and "
    "battery negative are at unlike voltages on purpose. A tie between them, over a busbar or "
    "over the chassis, bridges the switch: the array then charges without control, or the loads "
    "are never switched off, through a path that has no fuse.",
    caution=warning(
        "With the switch bridged the battery is overcharged without limit and can gas, burst or "
        "burn."
    ),
    sound=SOUND,
    faulty=Edit("common: negative", "common: positive"),
)
def common_positive_controller_grounded(study: Study) -> Iterator[Observation]:
    for tied in study.wiring.tied_poles:
        yield Observation(
            message=f"`{tied.controller.name}` has its positive in common, and its "
            f"{WHAT[tied.port]} negative is tied to {_tied_to(tied)}",
            on=(tied.controller,),
            remedy=Remedy(
                f"leave `{tied.controller.name}.{tied.port}.negative` joined to nothing but the "
                f"{WHAT[tied.port]}; or use a controller with a common negative",
                ((Change(tied.controller.name, "common", "negative"),),),
            ),
            level=None if tied.sure else "warning",
        )


def _tied_to(tied: TiedPole) -> str:
    if not tied.ground:
        return "the battery's negative"
    beyond = ", as the battery's is" if tied.sure else ", which other negatives may share"
    return f"the {tied.ground}{beyond}"
