"""The rating of a string's fuse against the current of the string itself."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, Remedy, rule
from wattproof.study import Study
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.limits import margin_below
from wattproof.study.wiring.devices import rated

BASIS = {
    "nec-2023": Clause(
        "NEC 690.9(B)",
        "2014-2023",
        "a string fuse is rated at least 125 % of the highest current, which is 125 % of the "
        "short-circuit current: 1.56 times it",
        verified=False,
    ),
    "iec": Clause(
        "IEC 62548 6.5.3",
        "2016; IEC 62548-1:2023",
        "a string fuse is rated above 1.5 times the module's short-circuit current",
        verified=True,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033, in the shape of IEC 62548",
        "2021",
        "a string fuse is rated above 1.5 times the module's short-circuit current",
        verified=False,
    ),
    "common practice": Clause(
        "IEC 62548 6.5.3, as marine rules have no text on arrays",
        "2016",
        "a string fuse is rated above 1.5 times the module's short-circuit current",
        verified=True,
    ),
}

SOUND = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -18 °C, hottest: 40 °C, places: {roof: {ambient: 65 °C}, cabin: {ambient: 35 °C}}}
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, vmp: 20.4 V, isc: 6 A, imp: 5.6 A, pmax: 114 W,
                voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    pv-8: {size: 8 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-6: {size: 6 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  port: {module: rigid-100, series: 2, mounting: roof-gap}
  middle: {module: rigid-100, series: 2, mounting: roof-gap}
  starboard: {module: rigid-100, series: 2, mounting: roof-gap}
combiners:
  roof-joint: {joins: [port, middle, starboard], kind: combiner-box, rating: 30 A, voltage: 600 V}
switches:
  pv-off: {rating: 40 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  port-fuse: {rating: 15 A, voltage: 1000 V, style: gpv, interrupt: 10 kA, dc: true}
  middle-fuse: {rating: 10 A, voltage: 1000 V, style: gpv, interrupt: 10 kA, dc: true}
  starboard-fuse: {rating: 10 A, voltage: 1000 V, style: gpv, interrupt: 10 kA, dc: true}
  charge-fuse: {rating: 60 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 40 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 200 Ah,
          max_charge_current: 100 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  port-lead: {from: port, to: roof-joint, cable: pv-10, length: 2 m, place: roof,
              inline: [{port-fuse: {from_end: to, distance: 10 cm}}]}
  middle-lead: {from: middle, to: roof-joint, cable: pv-10, length: 2 m, place: roof,
                inline: [{middle-fuse: {from_end: to, distance: 10 cm}}]}
  starboard-lead: {from: starboard, to: roof-joint, cable: pv-10, length: 2 m, place: roof,
                   inline: [{starboard-fuse: {from_end: to, distance: 10 cm}}]}
  home-run: {from: roof-joint, to: tracker.pv, cable: pv-8, length: 3 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-6, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="string-fuse-too-small",
    summary="Rating of a string's fuse or breaker against the string's own current.",
    level="warning",
    hazard="lost-energy",
    part="overcurrent",
    basis=BASIS,
    explanation="In bright sun between clouds a string gives a quarter more than its label says, "
    "for minutes at a time, and a fuse in a hot box on a roof opens below its rating. One that "
    "is chosen to match the label is therefore hot on every clear day and opens without any "
    "fault. The string is then lost until somebody notices, and people are tempted to put a "
    "larger one in its place than the module stands.",
    sound=SOUND,
    faulty=Edit("port-fuse: {rating: 15 A", "port-fuse: {rating: 6 A"),
)
def string_fuse_too_small(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        for flow in array.backflows:
            string, window = flow.string, flow.string.fuse_window
            for name, passage in {d.name: d for d in flow.devices}.items():
                rating = device_rating(passage)
                if window.reaches_lower(rating.number):
                    continue
                than = "must be more than" if window.strict else "must be at least"
                yield Observation(
                    message=f"`{name}` ({rating}) carries `{string.name}` with "
                    f"{string.isc('standard')} short-circuit current: its rating {than} "
                    f"{window.lower}",
                    on=(passage.device, string.source.string),
                    values=(rating, window.lower),
                    margin=-margin_below(rating, window.lower),
                    remedy=Remedy(
                        f"use a rating of {window.words}",
                        tuple((rated(passage, amps),) for amps in window.standard),
                    )
                    if window.standard
                    else f"{window.words}: use modules with a larger series fuse rating, or leave "
                    "the fuse out where nothing can drive current backwards",
                )
