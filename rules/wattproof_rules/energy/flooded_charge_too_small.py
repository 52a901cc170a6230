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
from wattproof_rules.plans import plan

BASIS = {
    "common practice": Clause(
        "makers of flooded lead batteries",
        "as supplied",
        "a bank that is used every day is charged with a tenth of its capacity each hour at least",
        verified=False,
    ),
}

MORE = """\
batteries:
  house: {chemistry: flooded, nominal: 12 V, capacity: 100 Ah,
          max_charge_current: 20 A, max_charge_voltage: 14.8 V}
"""


@record
class Limits:
    """What a project may set."""

    rate: float = option(0.10, "Charge current of a flooded bank for each Ah, in A.")


@rule(
    id="flooded-charge-too-small",
    summary="Charge current of all sources at once against what a flooded lead bank needs.",
    covers=("Charged too little to last",),
    level="note",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="In a flooded battery the acid settles: heavy below, thin above. Charging with "
    "enough current makes bubbles at the end, and they stir it. With a small current it also never "
    "gets full between one evening and the next, and the plates grow hard with sulphate. A bank "
    "that is used every day needs some push; one that only stands by does not.",
    caution=notice("A lead battery that is never quite full loses its capacity within a year."),
    fine="Where the bank stands by most of the time, or another charger brings it to bubbles once "
    "a month.",
    since="0.1.0",
    sound=plan(
        "van-refrigerator",
        Edit("charge_voltage: 14.2 V", "charge_voltage: 14.4 V"),
        Edit("winter: 3 h", "winter: 2 h"),
        more=MORE,
    ),
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
