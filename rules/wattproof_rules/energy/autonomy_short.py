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
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.energy.balance import EnergyStudy

BASIS = {
    "common practice": practice(
        "a bank lasts a day at least without sun, and two or three where no other source is at "
        "hand; half of a lead battery's capacity and four fifths of a lithium battery's are used"
    ),
}


@record
class Limits:
    """What a project may set."""

    days: float = option(1.0, "Days that a bank lasts without sun, at least.")


@rule(
    id="autonomy-short",
    summary="Days that a bank lasts without sun.",
    covers=("A bank that is empty after one dull day",),
    level="note",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="What is used at night and on a dull day must come out of the battery. A battery "
    "is not to be emptied: lead ages fast below half, and the management of a lithium pack cuts "
    "everything off when it is empty, the refrigerator and the lights with it. A bank that does "
    "not last a day is empty before the next sun, every day.",
    fine="Where something else charges on dull days (an alternator, shore power), or nothing on "
    "board is needed then.",
    since="0.1.0",
    sound=plan("van-refrigerator"),
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
            on=energy.serving,
            values=(days,),
            margin=days.number / limits.days - 1.0,
            remedy=_remedy(energy, limits.days),
        )


def _hours(days: float) -> str:
    return f"{days * 24.0:.0f} h"


def _remedy(energy: EnergyStudy, days: float) -> Remedy:
    """Capacity that would do, or the use that this one stands."""
    capacity = sum(bank.capacity.number for bank in energy.serving) / 3600.0
    times = energy.most_used.used.number * days / energy.usable.number
    stands = math.floor(energy.usable.number / days / 3600.0)
    wanted = math.ceil(capacity * times - 1e-9)
    return Remedy(
        f"use a bank of at least {wanted} Ah in place of {capacity:g} Ah, or use at most {stands} "
        "Wh a day",
        (in_capacity(energy.serving, wanted),),
    )
