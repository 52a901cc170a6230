"""How long a bank lasts without sun."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.remedies.proposals import in_capacity
from wattproof.rule import Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds
from wattproof.working import tabled

if TYPE_CHECKING:
    from wattproof.study.energy.balance import EnergyStudy

BASIS = {
    "common practice": practice(
        "a bank lasts a day at least without sun, and two or three where no other source is at "
        "hand; half of a lead battery's capacity and four fifths of a lithium battery's are used"
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


@record
class Limits:
    """What a project may set."""

    days: float = option(1.0, "Days that a bank lasts without sun, at least.")


@rule(
    id="autonomy-short",
    summary="Days that a bank lasts without sun.",
    level="note",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="What is used at night and on a dull day must come out of the battery. A battery "
    "is not to be emptied: lead ages fast below half, and the management of a lithium pack cuts "
    "everything off when it is empty, the refrigerator and the lights with it. A bank that does "
    "not last a day is empty before the next sun, every day.",
    sound=SOUND,
    faulty=Edit("capacity: 100 Ah", "capacity: 34 Ah"),
    options=Limits,
)
def autonomy_short(study: Study, limits: Limits) -> Iterator[Observation]:
    for energy in study.energy.balances:
        days = energy.autonomy
        least = tabled(limits.days, "d", "daysleast", "days that a bank lasts", "common practice")
        if not energy.has_use or days is None or not exceeds(least, days):
            continue
        used = energy.most_used
        yield Observation(
            message=f"`{energy.name}` gives {energy.usable} from full, and {used.used} a day are "
            f"used {used.period.when}: it lasts {_hours(days.number)} without sun",
            on=energy.banks,
            values=(days,),
            margin=days.number / limits.days - 1.0,
            remedy=_remedy(energy, limits.days),
        )


def _hours(days: float) -> str:
    return f"{days * 24.0:.0f} h"


def _remedy(energy: EnergyStudy, days: float) -> Remedy:
    """Capacity that would do, or the use that this one stands."""
    capacity = sum(bank.capacity.number for bank in energy.banks) / 3600.0
    times = energy.most_used.used.number * days / energy.usable.number
    stands = math.floor(energy.usable.number / days / 3600.0)
    wanted = math.ceil(capacity * times - 1e-9)
    return Remedy(
        f"use a bank of at least {wanted} Ah in place of {capacity:g} Ah, or use at most {stands} "
        "Wh a day",
        (in_capacity(energy.banks, wanted),),
    )
