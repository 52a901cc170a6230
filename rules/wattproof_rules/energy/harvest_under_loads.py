"""What the sun brings in a day against what is used, season by season."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import enumerated, quoted
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.energy.balance import Balance, EnergyStudy

BASIS = {
    "common practice": practice(
        "an array is laid out for the darkest season in which it must do: its power at standard "
        "conditions times the peak sun hours, times two thirds or so for heat, wires, controller "
        "and battery, brings what is used"
    ),
}

MOST_TIMES = 5
"""How many times the modules there are for an array that anyone would still build."""


@rule(
    id="harvest-under-loads",
    summary="What the arrays bring in a day against what is used, by season.",
    covers=("More used than the sun brings",),
    level="note",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="A module gives its printed power in full sun and cold cells only, and a day has "
    "few hours of that: five in summer, one or so in the winter of higher latitudes. Heat, dirt, "
    "wires, controller and battery take another third. Where less comes in than goes out the "
    "battery runs down within days, however large it is, and a lead battery that stays half full "
    "does not live long.",
    sound=plan("van-refrigerator"),
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
