"""What hangs on the load terminals of a controller against their rating."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.battery.discharging import LoadPort
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import Value, declared

BASIS = {
    "common practice": practice(
        "all loads on the load terminals of a controller together stay within the current that "
        "its maker gives for them"
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
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A, load_current: 15 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
loads:
  lights: {current: 3 A, nominal: 12 V}
  pump: {current: 7 A, nominal: 12 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  lights-run: {from: tracker.load, to: lights, cable: pv-10, length: 3 m, place: cabin}
  pump-run: {from: tracker.load, to: pump, cable: pv-10, length: 2 m, place: cabin}
"""


@rule(
    id="load-port-over-rating",
    summary="Loads on the load terminals of a controller against their rated current.",
    level="error",
    hazard="damage",
    part="controller",
    basis=BASIS,
    explanation="The load terminals of a controller switch the loads off before the battery is "
    "empty, and the small switch behind them has a rating of its own, often well below the charge "
    "current on the front. When everything runs together the currents add up. A good controller "
    "switches off then; a poor one burns.",
    caution=notice("An overloaded load output fails, and with it all that hangs on it."),
    sound=SOUND,
    faulty=Edit("load_current: 15 A", "load_current: 8 A"),
)
def load_port_over_rating(study: Study) -> Iterator[Observation]:
    for port in study.battery.load_ports:
        if port.controller.load_current is None or not port.loads:
            continue
        name = port.controller.name
        words = f"rated current of the load terminals of {name}"
        rating = declared(port.controller.load_current, f"Iload({name})", words)
        if exceeds(port.current, rating):
            yield _found(port, port.current, rating)


def _found(port: LoadPort, current: Value, rating: Value) -> Observation:
    listed = ", ".join(f"`{load.name}` {amps}" for load, amps in port.loads)
    return Observation(
        message=f"the loads on `{port.controller.name}` draw {current} together ({listed}), and "
        f"its load terminals are rated {rating}",
        on=(port.controller, *(load for load, _ in port.loads)),
        values=(current, rating),
        margin=margin_below(current, rating),
        remedy=_remedy(port, current, rating),
        whatever=port.at_least > rating.number,
    )


def _remedy(port: LoadPort, current: Value, rating: Value) -> Remedy:
    """The fewest and largest loads that must go, or the controller that would do."""
    left, moved = current.number, []
    for load, amps in sorted(port.loads, key=lambda pair: -pair[1].number):
        if left <= rating.number * (1.0 + 1e-9):
            break
        left -= amps.number
        moved.append(f"`{load.name}`")
    stands = math.ceil(current.number - 1e-9)
    words = (
        f"wire {' and '.join(moved)} to the battery through a fuse; or use a controller whose load "
        f"terminals stand at least {stands} A"
    )
    return Remedy(words, ((Change(port.controller.name, "load_current", f"{stands} A"),),))
