"""Batteries in series and parallel against what their maker allows."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.battery.joined import PackCount
from wattproof.study.limits import margin_below

BASIS = {
    "common practice": practice(
        "packs with a management of their own are joined in series and parallel only in the "
        "numbers that their maker allows"
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
    bank-1-0: {size: 1/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
               voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  pack-fuse: {rating: 80 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  bank-fuse: {rating: 125 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_discharge_current: 100 A, max_charge_voltage: 14.6 V,
          low_temperature_cutoff: true, max_parallel: 2, arrangement: 2p,
          each_pack: {fuse: pack-fuse}}
busbars:
  bar: {rating: 250 A, voltage: 60 V}
inverters:
  mains: {power: 800 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: bar, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  bank-run: {from: house, to: bar, cable: bank-1-0, length: 60 cm, place: cabin,
             inline: [{bank-fuse: {from_end: from, distance: 10 cm}}]}
  inverter-run: {from: bar, to: mains, cable: bank-1-0, length: 60 cm, place: cabin}
"""


@rule(
    id="pack-count-over-limit",
    summary="Batteries in series and in parallel against the numbers that their maker allows.",
    level="error",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="A lithium pack has a switch inside that is made for the voltage of one pack. In "
    "series, the pack that opens first gets the voltage of all the others across that switch, "
    "which can destroy it, so that it never opens again. In parallel, packs of unequal charge pour "
    "into each other, and when one opens the rest must carry its share.",
    caution=warning(
        "A pack whose switch has failed has no protection left, and can be overcharged into fire."
    ),
    sound=SOUND,
    faulty=Edit("arrangement: 2p", "arrangement: 3p"),
)
def pack_count_over_limit(study: Study) -> Iterator[Observation]:
    for count in study.battery.pack_counts:
        number, allowed = int(count.there.number), int(count.allowed.number)
        if number <= allowed:
            continue
        way = "series" if count.in_series else "parallel"
        yield Observation(
            message=f"{number} batteries of `{count.bank.name}` are in {way}, and its maker allows "
            f"{allowed}",
            on=(count.bank,),
            values=(count.there, count.allowed),
            margin=margin_below(count.there, count.allowed),
            remedy=_remedy(count, number, allowed),
        )


def _remedy(count: PackCount, number: int, allowed: int) -> Remedy:
    """Fewer and larger batteries: of more volts in series, of more capacity in parallel."""
    bank = count.bank
    if count.in_series:
        if allowed == 1:
            return Remedy(f"use a battery of the full voltage in place of {number} in series")
        return Remedy(f"use at most {allowed} in series, each of more volts, in place of {number}")
    one = bank.capacity.number / 3600.0 / bank.in_parallel
    needed = math.ceil(one * number / allowed - 1e-9)
    words = f"use at most {allowed} in parallel, of {needed} Ah each, in place of {number}"
    if bank.in_parallel != number:
        return Remedy(words)  # others are joined from outside: wires change too
    layout = f"{bank.in_series}s{allowed}p" if bank.in_series > 1 else f"{allowed}p"
    fewer = Change(bank.name, "arrangement", layout if allowed > 1 or bank.in_series > 1 else "")
    return Remedy(words, ((fewer, Change(bank.name, "capacity", f"{needed} Ah")),))
