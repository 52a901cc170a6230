"""All that draws from a bank at once against what its packs let out."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.battery.discharging import Discharging
from wattproof.study.limits import exceeds, margin_below

BASIS = {
    "common practice": practice(
        "inverter and loads together stay within the discharge limits of the packs; packs in "
        "parallel count with 0.8 of their sum, since they never share equally"
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
  charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  bank-fuse: {rating: 125 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A,
            charge_voltage: 14.2 V, blocks_reverse: true}
batteries:
  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,
          max_charge_current: 50 A, max_discharge_current: 100 A, max_charge_voltage: 14.6 V,
          low_temperature_cutoff: true}
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


@record
class Limits:
    """What a project may set."""

    wrong: float = option(1.25, "Times the discharge limit from which it is an error.")


@rule(
    id="load-over-battery-discharge",
    summary="Current of inverter and loads together against the discharge limit of the bank.",
    level="error",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="A lithium pack carries a switch inside that opens when more is drawn than its "
    "cells or that switch can stand. An inverter draws most when the battery is low, since it "
    "makes up with current for the voltage that is missing. Of packs in parallel the one with the "
    "shortest leads gives most and opens first; then the rest get all of it and open too, and "
    "everything goes dark at once.",
    caution=notice(
        "When the pack opens under load all lights and instruments fail together, and a charger "
        "that is running may be left without a battery."
    ),
    sound=SOUND,
    faulty=Edit("max_discharge_current: 100 A", "max_discharge_current: 70 A"),
    options=Limits,
)
def load_over_battery_discharge(study: Study, limits: Limits) -> Iterator[Observation]:
    for drawn in study.battery.discharging:
        current, limit = drawn.current, drawn.limit
        if not exceeds(current, limit):
            continue
        grave = exceeds(current, limits.wrong * limit)
        listed = ", ".join(f"`{consumer.name}` {amps}" for consumer, amps in drawn.consumers)
        names = " and ".join(f"`{bank.name}`" for bank in drawn.banks)
        yield Observation(
            message=f"{current} is drawn from {names} when everything runs ({listed}), and it may "
            f"give {limit}",
            on=(*drawn.banks, *(consumer for consumer, _ in drawn.consumers)),
            values=(current, limit),
            margin=margin_below(current, limit),
            remedy=_remedy(drawn),
            level=None if grave else "warning",
            whatever=not limit.assumptions and drawn.at_least > limits.wrong * limit.number,
        )


def _remedy(drawn: Discharging) -> Remedy:
    """The pack that would do."""
    packs = sum(bank.in_parallel for bank in drawn.banks)
    needed = math.ceil(drawn.needed_each - 1e-9)
    of_each = f" each, of {packs}" if packs > 1 else ""
    words = (
        f"use packs that give at least {needed} A{of_each}, more packs in parallel, or a smaller "
        "inverter; or let loads run in turn"
    )
    stated = ((bank.name, bank.battery.max_discharge_current) for bank in drawn.banks)
    weak = (name for name, amps in stated if amps is None or amps.value < needed)
    stronger = tuple(Change(name, "max_discharge_current", f"{needed} A") for name in weak)
    return Remedy(words, (stronger,))
