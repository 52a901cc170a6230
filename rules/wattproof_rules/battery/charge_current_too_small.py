"""All that charges a lead battery, against what it needs to be stirred and filled."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.remedies.proposals import in_capacity
from wattproof.rule import Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.charging.sources import Charging
from wattproof.study.limits import exceeds
from wattproof.working import Value, tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "makers of lead batteries ask for a charge of 5 to 13 A for each 100 Ah; below 3 A the sun "
        "of a day does not fill one that is used"
    ),
}

MORE = """\
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 200 Ah, max_charge_current: 60 A,
          max_charge_voltage: 14.7 V, place: cabin}
"""


@record
class Limits:
    """What a project may set."""

    rate: float = option(3.0, "Charge current for each 100 Ah of a lead bank, in A, at the least.")


@rule(
    id="charge-current-too-small",
    summary="Charge current of all sources against the least that a lead bank needs.",
    covers=("Charged too little to last",),
    level="note",
    hazard="damage",
    part="battery",
    basis=BASIS,
    explanation="Lead sulphate that is left in the plates becomes hard within weeks and takes no "
    "charge any more. To dissolve it a battery must be full again and again, and the last tenth "
    "takes hours at the full voltage. A charge that is small for the bank only gets there on a "
    "long day without loads, and in flooded batteries it never stirs the acid.",
    fine="Where the bank is charged full by something else every week or two, or stands by most "
    "of the time.",
    since="0.1.0",
    sound=plan("van", Edit("charge_voltage: 14.2 V", "charge_voltage: 14.4 V"), more=MORE),
    faulty=Edit("capacity: 200 Ah", "capacity: 1000 Ah"),
    options=Limits,
)
def charge_current_too_small(study: Study, limits: Limits) -> Iterator[Observation]:
    for charged in study.charging.of_banks:
        bank = charged.bank
        if not bank.is_lead or charged.by_alternator or study.energy.is_worked_flooded(bank):
            continue  # a flooded bank in daily use needs more: said elsewhere
        words = "least charge rate of lead"
        rate = tabled(limits.rate / 100.0 / 3600.0, "1/s", "cmin", words, "common practice")
        least = rate * bank.capacity
        least = least.named(f"Imin({bank.name})", f"least charge current of {bank.name}", "A")
        if not exceeds(least, charged.current):
            continue
        yield Observation(
            message=(
                f"`{bank.name}` is charged with {charged.current} in all; at {bank.capacity} it "
                f"needs at least {least}"
            ),
            on=(bank, *(source for source, _ in charged.sources)),
            values=(charged.current, least),
            margin=charged.current.number / least.number - 1.0,
            remedy=_remedy(charged, least, limits.rate),
        )


def _remedy(charged: Charging, least: Value, rate: float) -> Remedy:
    """The current that it needs, or the bank that this one fills."""
    bank = charged.bank
    words = (
        f"charge `{bank.name}` with at least {math.ceil(least.number - 1e-9)} A, by more modules "
        "or a charger beside them"
    )
    most = math.floor(charged.current.number / rate * 100.0 / bank.in_parallel) * bank.in_parallel
    if charged.shared or not most:
        return Remedy(words)
    smaller = in_capacity((bank,), most)
    return Remedy(
        f"{words}, or use a bank of at most {most} Ah if it lasts long enough", (smaller,)
    )
