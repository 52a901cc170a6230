"""Controllers whose output leads to no battery."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, practice, rule
from wattproof.study import Study

BASIS = {
    "common practice": practice(
        "a charge controller is joined to its battery before anything else, and never works "
        "without it"
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
  second-string: {module: rigid-100, series: 2, mounting: roof-gap}
  roof-string: {module: rigid-100, series: 2, mounting: roof-gap}
switches:
  second-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 30 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 10 A, load_current: 10 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
  second: {kind: mppt, max_input_voltage: 75 V, max_output_current: 10 A,
           charge_voltage: 14.2 V, blocks_reverse: true}
loads:
  lamp: {current: 2 A}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  lamp-run: {from: tracker.load, to: lamp, cable: batt-8, length: 1 m, place: cabin}
  spare-run: {from: second.battery, to: tracker.battery, cable: batt-8, length: 1 m, place: cabin}
  second-run: {from: second-string, to: second.pv, cable: pv-10, length: 4 m,
               place: [roof, cabin], inline: [second-off]}
"""


@rule(
    id="controller-battery-missing",
    summary="A battery at the output of every charge controller.",
    level="error",
    hazard="damage",
    part="controller",
    basis=BASIS,
    explanation="A charge controller takes its voltage from the battery: it holds what it gives "
    "to what the battery needs. Without one it has nothing to hold on to. It does not start, or "
    "its output jumps to the voltage of the array, and what hangs on it is destroyed.",
    caution=notice("Loads on a controller without a battery can get the voltage of the array."),
    sound=SOUND,
    faulty=Edit(
        "from: tracker.load, to: lamp, cable: batt-8, length: 1 m, place: cabin}\n"
        "  spare-run: {from: second.battery, to: tracker.battery",
        "from: second.battery, to: lamp",
    ),
)
def controller_battery_missing(study: Study) -> Iterator[Observation]:
    for controller in study.circuit.stranded:
        name = controller.name
        yield Observation(
            message=f"the output of `{name}` leads to no battery",
            on=(controller,),
            remedy=f"lead `{name}.battery` to the battery that it is to charge, through a fuse at "
            "the battery",
        )
