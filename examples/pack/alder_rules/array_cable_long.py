"""The length of each cable from the array against what the workshop routes under its own eyes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattproof.rule import Edit, Observation, option, practice, rule
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof.working import tabled

BASIS = {
    "common practice": practice(
        "our workshop keeps cables from the array short enough to see their whole way at once"
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
                pmax_coefficient: -0.36 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V,
                connector: {style: locking-pv}}
  cables:
    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V, outdoor: true}
    batt-8: {size: 8 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap, place: roof}
switches:
  array-off: {rating: 32 A, voltage: 250 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, low_temperature_cutoff: true, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V, low_temperature_cutoff: true}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [array-off]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@dataclass(frozen=True)
class Limits:
    """What a project may set."""

    longest: float = option(8.0, "Longest cable from the array, one way, in m.")


@rule(
    id="array-cable-long",
    summary="Length of each cable from the array against what the workshop allows.",
    level="note",
    hazard="lost-energy",
    part="conductor",
    basis=BASIS,
    explanation="A long cable from the roof runs behind linings where nobody looks again. It also "
    "takes its share of the voltage, and it is live whenever there is light. A shorter way is "
    "easier to guard, to follow and to replace.",
    fine="Where the cable can be seen along its whole way, or lies in a pipe that it can be drawn "
    "out of.",
    since="0.1.0",
    sound=SOUND,
    faulty=Edit("cable: pv-10, length: 4 m", "cable: pv-10, length: 9 m"),
    options=Limits,
)
def array_cable_long(study: Study, limits: Limits) -> Iterator[Observation]:
    longest = tabled(limits.longest, "m", "Lmax", "longest cable of our workshop", "our practice")
    for wire in study.wiring.wires.values():
        if wire.side == "array" and wire.length > longest:
            yield Observation(
                message=f"`{wire.name}` is {wire.length} long, and we allow {longest}",
                on=(wire,),
                values=(wire.length, longest),
                margin=margin_below(wire.length, longest),
                remedy=f"find a way of at most {longest}",
            )
