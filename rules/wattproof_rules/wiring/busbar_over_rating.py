"""The current through a busbar against what it is rated for."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.busbars import BusbarStudy
from wattproof.working import Value, declared

AT_BEST = 0.74
"""Share of an assumed current that surely flows: no loss, and nominal voltage."""

BASIS = {
    "common practice": practice(
        "a busbar is rated for a lasting current, printed on it; what flows in at some of its "
        "studs flows along it to the others"
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C,
       places: {roof: {ambient: 60 °C, sunlight: true}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
    batt-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap, place: roof}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  bank-fuse: {rating: 150 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, low_temperature_cutoff: true, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 200 Ah,
          max_charge_current: 100 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true,
          max_discharge_current: 150 A, short_circuit_current: 8 kA}
busbars:
  main-bar: {rating: 150 A, voltage: 48 V}
inverters:
  mains: {power: 800 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: main-bar, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  bank-run: {from: house, to: main-bar, cable: batt-1-0, length: 0.5 m, place: cabin,
             inline: [{bank-fuse: {from_end: from, distance: 10 cm}}]}
  inverter-run: {from: main-bar, to: mains, cable: batt-1-0, length: 0.6 m, place: cabin}
"""


@rule(
    id="busbar-over-rating",
    summary="Largest lasting current through a busbar against its rating.",
    level="error",
    hazard="fire",
    part="connector",
    basis=BASIS,
    explanation="A busbar gathers the currents of everything that is bolted to it, and the strip "
    "between the battery's stud and the next one carries them all together. It warms with the "
    "square of that sum, its studs loosen as it warms and cools, and a loose stud is the hottest "
    "place of all. The fuses of the branches do not notice: each of them carries only its share.",
    caution=warning(
        "An overloaded busbar heats its studs and cover for hours without a fuse opening."
    ),
    sound=SOUND,
    faulty=Edit("main-bar: {rating: 150 A", "main-bar: {rating: 75 A"),
)
def busbar_over_rating(study: Study) -> Iterator[Observation]:
    for bar in study.wiring.busbars:
        if bar.busbar.rating is None:
            continue
        rating = declared(bar.busbar.rating, f"In({bar.name})", f"rating of {bar.name}")
        through = bar.through
        if not exceeds(through, rating):
            continue
        surely = AT_BEST if through.assumptions else 1.0
        always = bar.at_least > rating.number
        most = bar.legs[0][0]
        feed = f"`{most}`" if most in study.wiring.wires else "the lead to the controller"
        yield Observation(
            message=f"{through} passes through `{bar.name}`, most of it by {feed}, and it is rated "
            f"{rating}",
            on=(bar,),
            values=(through, rating),
            margin=margin_below(through, rating),
            remedy=_remedy(bar, through, "" if always else feed),
            level=None if always else "warning",
            whatever=surely * bar.at_least > rating.number,
        )


def _remedy(bar: BusbarStudy, through: Value, feed: str) -> Remedy:
    amps = f"{math.ceil(through.number - 1e-9)} A"
    middle = f", or join {feed} in the middle, with the rest on both sides" if feed else ""
    return Remedy(
        f"use a bar rated at least {amps}{middle}", ((Change(bar.name, "rating", amps),),)
    )
