"""The most that charges a flooded lead bank against what keeps it well."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.remedies.proposals import in_capacity
from wattproof.rule import Clause, Edit, Observation, Remedy, notice, option, record, rule
from wattproof.study import Study
from wattproof.study.charging.sources import Charging
from wattproof.study.limits import exceeds
from wattproof.working import tabled

BASIS = {
    "common practice": Clause(
        "makers of flooded lead batteries",
        "as supplied",
        "a bank that is used every day is charged with a tenth of its capacity each hour at least",
        verified=False,
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
            charge_voltage: 14.4 V, blocks_reverse: true}
batteries:
  house: {chemistry: flooded, nominal: 12 V, capacity: 100 Ah,
          max_charge_current: 20 A, max_charge_voltage: 14.8 V}
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
    refrigerator: {hours: {winter: 2 h, summer: 8 h}}
"""


@record
class Limits:
    """What a project may set."""

    rate: float = option(0.10, "Charge current of a flooded bank for each Ah, in A.")


@rule(
    id="flooded-charge-too-small",
    summary="Charge current of all sources at once against what a flooded lead bank needs.",
    level="note",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="In a flooded battery the acid settles: heavy below, thin above. Charging with "
    "enough current makes bubbles at the end, and they stir it. With a small current it also never "
    "gets full between one evening and the next, and the plates grow hard with sulphate. A bank "
    "that is used every day needs some push; one that only stands by does not.",
    caution=notice("A lead battery that is never quite full loses its capacity within a year."),
    sound=SOUND,
    faulty=Edit("capacity: 100 Ah", "capacity: 200 Ah"),
    options=Limits,
)
def flooded_charge_too_small(study: Study, limits: Limits) -> Iterator[Observation]:
    for charging in study.charging.of_banks:
        bank, current = charging.bank, charging.current
        if charging.by_alternator or not study.energy.is_worked_flooded(bank):
            continue
        words = "charge current of flooded lead for each Ah, at least"
        rate = tabled(limits.rate / 3600.0, "1/s", "cleast", words, "common practice")
        words = f"charge current that {bank.name} needs"
        need = (rate * bank.capacity).named(f"Ineed({bank.name})", words, "A")
        if not exceeds(need, current):
            continue
        yield Observation(
            message=f"`{bank.name}` gets {current} when all charge at once, and a flooded bank of "
            f"{bank.capacity} needs {need} at least",
            on=(bank, *(source for source, _ in charging.sources)),
            values=(current, need),
            margin=current.number / need.number - 1.0,
            remedy=_remedy(charging, need.number, limits.rate, study),
        )


def _remedy(charging: Charging, need: float, rate: float, study: Study) -> Remedy:
    """Modules that would do, and the current that their controllers must pass on; or the bank."""
    names = {source.name for source, _ in charging.sources}
    arrays = [array for array in study.array.arrays if array.controller.name in names]
    count = sum(len(string.modules) for array in arrays for string in array.all_strings)
    whole = need * charging.whole.number / charging.current.number
    text = f"let sources that give {math.ceil(whole - 1e-9)} A together charge it"
    if count and len(arrays) == len(charging.sources):
        wanted = math.ceil(count * need / charging.current.number - 1e-9)
        text += f" (about {wanted} modules in place of {count})"
    bank = charging.bank
    most = math.floor(charging.current.number / rate / bank.in_parallel) * bank.in_parallel
    if charging.shared or not most:
        return Remedy(f"{text}, or use a smaller bank if it lasts long enough")
    return Remedy(
        f"{text}, or use a bank of at most {most} Ah if it lasts long enough",
        (in_capacity((bank,), most),),
    )
