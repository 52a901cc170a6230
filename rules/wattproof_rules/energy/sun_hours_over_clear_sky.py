"""Declared sun hours against what a clear sky gives at the latitude."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, rule
from wattproof.study import Study
from wattproof.study.limits import margin_below

BASIS = {
    "common practice": Clause(
        "Ineichen and Perez, Solar Energy 73 (2002) 151-157",
        "2002",
        "what comes down through very clear air follows from the height of the sun; a quarter more "
        "is allowed for mountains and snow",
        verified=True,
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {latitude: 30°, coldest: -18 °C, hottest: 40 °C,
       places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C}}}
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
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  load-fuse: {rating: 15 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 20 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
loads:
  refrigerator: {power: 45 W, nominal: 12 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  load-run: {from: house, to: refrigerator, cable: batt-8, length: 2 m, place: cabin,
             inline: [{load-fuse: {from_end: from, distance: 10 cm}}]}
energy:
  sun_hours: {winter: 1.5 h, summer: 5 h}
  uses:
    refrigerator: {hours: {winter: 3 h, summer: 8 h}}
"""


@rule(
    id="sun-hours-over-clear-sky",
    summary="Declared sun hours against the most that a clear sky gives at the latitude.",
    level="warning",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="A peak sun hour is an hour of full sun, 1000 W/m², straight onto the module. From "
    "morning to evening the light of a whole day adds up to a few of them, even where the sun is "
    "up for sixteen hours. Hours of daylight, or a table for another plane, season or hemisphere, "
    "make an array look far larger than it is.",
    sound=SOUND,
    faulty=Edit("winter: 1.5 h, summer: 5 h", "winter: 1.5 h, summer: 13 h"),
)
def sun_hours_over_clear_sky(study: Study) -> Iterator[Observation]:
    for found in study.energy.too_much_sun:
        period, hours, limit = found.period, found.hours, found.limit
        most = math.floor(limit.number / 360.0) / 10.0
        yield Observation(
            message=f"`{found.string.name}` is to get {hours} of full sun a day {period.when}, "
            f"and no sky gives it more than {most:g} h there",
            on=(period, found.string),
            values=(hours, limit),
            margin=margin_below(hours, limit),
            remedy="write the peak sun hours of the place from a table (kWh/m² a day is the same "
            f"number), for modules as they lie; a clear sky brings {most:g} h at most",
        )
