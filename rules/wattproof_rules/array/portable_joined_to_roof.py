"""Portable modules in one circuit with fixed ones: what is left when they are taken away."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Located, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.array.series import Broken, broken_without_portable
from wattproof.study.array.strings import StringStudy

BASIS = {
    "common practice": practice(
        "what can be taken away has an input of its own, or stands in parallel, so that the rest "
        "works without it"
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
  roof-string: {module: rigid-100, series: 1, mounting: roof-gap}
  rear-string: {module: rigid-100, series: 1, mounting: roof-gap, portable: false}
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
  link: {from: roof-string.positive, to: rear-string.negative, cable: pv-10, length: 1 m,
         place: roof}
  plus: {from: rear-string.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m,
         place: [roof, cabin], inline: [pv-off]}
  minus: {from: roof-string.negative, to: tracker.pv.negative, cable: pv-10, length: 4 m,
          place: [roof, cabin]}
  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
"""


@rule(
    id="portable-joined-to-roof",
    summary="Whether the fixed modules still work when the portable ones are taken away.",
    level="warning",
    hazard="lost-energy",
    part="string",
    basis=BASIS,
    explanation="Modules in series are links of one chain: the current of each passes through all "
    "the others. When a portable one is packed away, the chain is open and the modules on the "
    "roof give nothing, however bright the sun. Whoever then bridges the gap has another voltage "
    "than the one that was planned.",
    sound=SOUND,
    faulty=Edit("portable: false", "portable: true"),
)
def portable_joined_to_roof(study: Study) -> Iterator[Observation]:
    for array in study.array.arrays:
        for broken in broken_without_portable(array):
            yield Observation(
                message=f"when {_named(broken.portable)} is taken away, the circuit is open and "
                f"{_named(broken.fixed)} gives nothing: {broken.dead} of modules lie idle",
                on=(*_strings(broken.portable), *_strings(broken.fixed)),
                values=(broken.dead,),
                remedy=_remedy(broken),
            )


def _strings(strings: tuple[StringStudy, ...]) -> tuple[Located, ...]:
    return tuple({str(s.source.string.name): s.source.string for s in strings}.values())


def _named(strings: tuple[StringStudy, ...]) -> str:
    names = dict.fromkeys(str(s.source.string.name) for s in strings)
    return " and ".join(f"`{name}`" for name in names)


def _remedy(broken: Broken) -> str:
    return (
        f"give {_named(broken.portable)} a controller of its own; or put it in parallel, with the "
        "same voltage as what it joins"
    )
