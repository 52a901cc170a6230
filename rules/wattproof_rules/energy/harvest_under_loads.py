"""What the sun brings in a day against what is used, season by season."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import enumerated, quoted

if TYPE_CHECKING:
    from wattproof.study.energy.balance import Balance, EnergyStudy

BASIS = {
    "common practice": practice(
        "an array is laid out for the darkest season in which it must do: its power at standard "
        "conditions times the peak sun hours, times two thirds or so for heat, wires, controller "
        "and battery, brings what is used"
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


MOST_TIMES = 5
"""How many times the modules there are for an array that anyone would still build."""


@rule(
    id="harvest-under-loads",
    summary="What the arrays bring in a day against what is used, by season.",
    level="note",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="A module gives its printed power in full sun and cold cells only, and a day has "
    "few hours of that: five in summer, one or so in the winter of higher latitudes. Heat, dirt, "
    "wires, controller and battery take another third. Where less comes in than goes out the "
    "battery runs down within days, however large it is, and a lead battery that stays half full "
    "does not live long.",
    sound=SOUND,
    faulty=Edit("winter: 3 h", "winter: 9 h"),
)
def harvest_under_loads(study: Study) -> Iterator[Observation]:
    for energy in study.energy.balances:
        balance = energy.darkest if energy.has_use else None
        if balance is None or balance.least is None or balance.most is None:
            continue
        used, least, most, limit = balance.used, balance.least, balance.most, balance.limit
        if not exceeds(used, least):
            continue
        beyond = limit is not None and exceeds(used, limit)
        values = (used, least, most, limit) if beyond and limit is not None else (used, least, most)
        strings = [string for array in energy.arrays for string in array.declared_strings]
        yield Observation(
            message=_message(energy, balance, beyond=beyond),
            on=(energy.banks[0], *(array.controller for array in energy.arrays), *strings),
            values=values,
            margin=margin_below(used, least),
            remedy=_remedy(energy, balance),
            level="warning" if beyond and not energy.others else None,
        )


def _message(energy: EnergyStudy, balance: Balance, *, beyond: bool) -> str:
    used = f"{balance.period.when} {balance.used} a day are used from `{energy.name}`"
    if beyond:
        text = f"{used}, and not even the clearest sky brings more than {balance.limit}"
    elif balance.most is not None and exceeds(balance.used, balance.most):
        text = f"{used}, and the sun brings {balance.least} to {balance.most}: it runs down"
    else:
        text = f"{used}, and the sun brings {balance.least} to {balance.most}: it may run down"
    others = [
        other.period.when
        for other in energy.balances
        if other is not balance and other.least is not None and exceeds(other.used, other.least)
    ]
    text += f" (so too {enumerated(others)})" if others else ""
    if energy.others:
        text += f", unless {quoted(c.name for c in energy.others)} brings the rest"
    return text


def _remedy(energy: EnergyStudy, balance: Balance) -> str:
    """More modules and what their controllers must pass on, or less use; or the sun hours."""
    assert balance.least is not None
    when = balance.period.when
    if not _unclipped(balance):
        return f"charge from something else than the sun {when}"
    short = [b for b in energy.balances if b.least is not None and exceeds(b.used, b.least)]
    times = max(b.used.number / _unclipped(b) for b in short)
    count = sum(len(string.modules) for array in energy.arrays for string in array.all_strings)
    wanted = max(math.ceil(count * times - 1e-9), count)
    kinds = {module.name for array in energy.arrays for module in array.modules}
    what = f"modules like `{kinds.pop()}`" if len(kinds) == 1 else "modules of the same kinds"
    less = f"use at most {math.floor(balance.least.number / 3600.0):g} Wh a day {when}"
    known = not any(a.key == "sun hours" for a in balance.least.assumptions)
    table = "" if known else "; or write the sun hours of the place, from a table, as `sun_hours`"
    if wanted > MOST_TIMES * count:
        return f"charge from something else than the sun {when}, or {less}{table}"
    parts = [f"{wanted} {what} in place of {count}"] if wanted > count else []
    more = wanted / count
    if any(h.noon.number * more > h.output.number for b in short for h in b.harvests):
        amps = max(sum(h.noon.number for h in b.harvests) for b in short) * more
        parts.append(f"controllers that pass on {math.ceil(amps - 1e-9)} A together")
    return f"use {' and '.join(parts)}, or {less}{table}"


def _unclipped(balance: Balance) -> float:
    """What comes in a day (J) where the controllers pass everything on."""
    return sum(harvest.unclipped.number for harvest in balance.harvests)
