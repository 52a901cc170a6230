"""How three or more packs in parallel share in the current, by the resistance of their leads."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, notice, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below, spread
from wattproof.study.wiring.sharing import Sharing

BASIS = {
    "common practice": practice(
        "packs in parallel have leads of one length and size to a common bar, or the load is taken "
        "off at opposite ends, so that none gives over a fifth more than another"
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
    bank-1: {size: 1 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
             voltage: 600 V}
strings:
  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}
switches:
  pv-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}
fuses:
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  left-fuse: {rating: 50 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  middle-fuse: {rating: 50 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  right-fuse: {rating: 50 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  left: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
         max_charge_current: 50 A, max_charge_voltage: 14.6 V,
         low_temperature_cutoff: true, internal_resistance: 3 mΩ}
  middle: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
           max_charge_current: 50 A, max_charge_voltage: 14.6 V,
           low_temperature_cutoff: true, internal_resistance: 3 mΩ}
  right: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_charge_voltage: 14.6 V,
          low_temperature_cutoff: true, internal_resistance: 3 mΩ}
busbars:
  bar: {rating: 250 A, voltage: 60 V}
wires:
  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, cabin],
             inline: [pv-off]}
  charge-run: {from: tracker.battery, to: bar, cable: batt-8, length: 1 m, place: cabin,
               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}
  left-run: {from: left, to: bar, cable: bank-1, length: 60 cm, place: cabin,
            inline: [{left-fuse: {from_end: from, distance: 5 cm}}]}
  middle-run: {from: middle, to: bar, cable: bank-1, length: 60 cm, place: cabin,
              inline: [{middle-fuse: {from_end: from, distance: 5 cm}}]}
  right-run: {from: right, to: bar, cable: bank-1, length: 60 cm, place: cabin,
             inline: [{right-fuse: {from_end: from, distance: 5 cm}}]}
"""


@record
class Limits:
    """What a project may set."""

    apart: float = option(0.20, "Share by which the least may stay under the most.")


@rule(
    id="parallel-paths-unequal",
    summary="Share of each of three or more batteries in parallel in the current.",
    level="warning",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="Batteries in parallel share the current by the resistance of their ways, and a "
    "battery has so little of its own that half a metre of cable counts. Where one is wired on "
    "behind the other and all is taken from the first, that one gives most, every day. It ages "
    "first, or its management opens first and the others get all of the load.",
    caution=notice("The battery with the shortest way wears out first and takes others with it."),
    sound=SOUND,
    faulty=Edit(
        "right-run: {from: right, to: bar, cable: bank-1, length: 60 cm",
        "right-run: {from: right, to: bar, cable: bank-1, length: 3 m",
    ),
    options=Limits,
)
def parallel_paths_unequal(study: Study, limits: Limits) -> Iterator[Observation]:
    for sharing in study.wiring.sharing:
        apart = spread(list(sharing.shares), "difference between the shares")
        if not exceeds(apart, limits.apart):
            continue
        yield Observation(
            message=f"of the current at `{sharing.at.name}` {_listed(sharing)}; the least is "
            f"{apart} under the most, and {limits.apart * 100:g} % is usual",
            on=sharing.banks,
            values=(apart, *sharing.shares),
            margin=margin_below(apart, limits.apart),
            remedy="lead each battery to a common bar by cables of one length and size, in both "
            "poles; or take positive and negative off at opposite ends of the row",
        )


def _listed(sharing: Sharing) -> str:
    pairs = zip(sharing.banks, sharing.shares, strict=True)
    return ", ".join(f"`{bank.name}` gives {share}" for bank, share in pairs)
