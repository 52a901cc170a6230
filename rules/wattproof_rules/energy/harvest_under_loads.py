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
    from wattproof.finding import Level
    from wattproof.study.energy.balance import Balance, EnergyStudy
    from wattproof.working import Value

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
    "does not live long. It is a note where a good month covers the use and a poor one does not, a "
    "warning where no month does, and an error where a full battery does not last the first day.",
    fine="Where the gap is covered by an alternator, shore power or a generator, or nobody is "
    "there in that season.",
    since="0.1.0",
    sound=plan("van-refrigerator"),
    faulty=Edit("winter: 3 h", "winter: 9 h"),
)
def harvest_under_loads(study: Study) -> Iterator[Observation]:
    for energy in study.energy.balances:
        if not energy.has_use:
            continue
        short = [b for b in energy.balances if b.least is not None and exceeds(b.used, b.least)]
        if not short:
            continue
        balance = min(short, key=lambda each: _gravity(energy, each))
        used, least, most = balance.used, balance.least, balance.most
        assert least is not None
        assert most is not None
        lasts, limit = energy.lasts(balance), balance.limit
        values = [used, least, most]
        values += [limit] if limit is not None and exceeds(used, limit) else []
        values += [lasts] if lasts is not None else []
        strings = [string for array in energy.arrays for string in array.declared_strings]
        yield Observation(
            message=_message(energy, balance, short),
            on=(energy.serving[0], *(array.controller for array in energy.arrays), *strings),
            values=tuple(values),
            margin=margin_below(used, least),
            remedy=_remedy(energy, balance, short),
            level=_level(energy, balance),
        )


def _level(energy: EnergyStudy, balance: Balance) -> Level | None:
    """An error where the first day empties the bank, a warning where it runs down in any case.

    What else charges it is not known, so that nothing is sure where there is such.
    """
    lasts = energy.lasts(balance)
    if lasts is None or energy.others:
        return None
    return "error" if lasts < 1.0 else "warning"


def _gravity(energy: EnergyStudy, balance: Balance) -> tuple[float, float]:
    """The period that empties the bank first, else the one whose use is covered least."""
    lasts = energy.lasts(balance)
    return (lasts.number if lasts is not None else math.inf, balance.covered)


def _message(energy: EnergyStudy, balance: Balance, short: list[Balance]) -> str:
    used, least, most, limit = balance.used, balance.least, balance.most, balance.limit
    assert least is not None
    assert most is not None
    text = f"{balance.period.when} {used} a day are used from `{energy.name}`"
    sky = f" under a {' or '.join(balance.skies)} sky" if balance.skies else ""
    beyond = limit if limit is not None and exceeds(used, limit) else None
    clearest = f", and not even the clearest sky brings more than {beyond}"
    clearest = clearest if beyond is not None else ""
    best = beyond if beyond is not None and not balance.told else most
    text += clearest if best is beyond else f", and the sun brings {least} to {most}{sky}"
    if exceeds(used, best):
        text += f": it runs down, with {_uncovered(used, best)} of the use not covered at best"
    else:
        text += f": it may run down, with up to {_uncovered(used, least)} of the use not covered"
    text += clearest if best is not beyond else ""
    text += _empty(energy, balance)
    text += _others(balance, [b for b in energy.balances if b in short and b is not balance])
    if energy.others:
        text += f", unless {quoted(c.name for c in energy.others)} brings the rest"
    return text


def _others(balance: Balance, others: list[Balance]) -> str:
    """The other periods with too little: those as sure of it as one, and those that may have it."""
    sure = [b for b in others if not _is_sure(balance) or _is_sure(b)]
    may = [b for b in others if b not in sure]
    parts = [f"so too {enumerated(b.period.when for b in sure)}"] if sure else []
    parts += [f"it may too {enumerated(b.period.when for b in may)}"] if may else []
    return f" ({'; '.join(parts)})" if parts else ""


def _is_sure(balance: Balance) -> bool:
    """True where the use is more than the most that comes."""
    return balance.most is not None and exceeds(balance.used, balance.most)


def _uncovered(used: Value, gets: Value) -> str:
    """The share of the use that is not got, in per cent."""
    return f"{max(round(margin_below(gets, used) * 100.0), 1):d} %"


def _empty(energy: EnergyStudy, balance: Balance) -> str:
    """When a full bank is empty; nothing where something else charges it too."""
    lasts = energy.lasts(balance)
    if lasts is None or energy.others:
        return ""
    if lasts < 1.0:
        return ", and from full it is empty on the first day"
    days = math.floor(lasts.number)
    return f", and from full it is empty after {days} day{'s' if days > 1 else ''}"


def _remedy(energy: EnergyStudy, balance: Balance, short: list[Balance]) -> str:
    """More modules and what their controllers must pass on, or less use; or the sun hours."""
    assert balance.least is not None
    when = balance.period.when
    sky = f" under a {' or '.join(balance.skies)} sky" if balance.skies else ""
    table = ""
    if not balance.told:
        table = (
            "; or write the sun hours of the place, from a table, as `sun_hours`, or what its sky "
            "is like as `sky`"
        )
    if not _unclipped(balance):
        return f"charge from something else than the sun {when}"
    times = max(b.used.number / _unclipped(b) if _unclipped(b) else math.inf for b in short)
    count = sum(len(string.modules) for array in energy.arrays for string in array.all_strings)
    less = f"use at most {math.floor(balance.least.number / 3600.0):g} Wh a day {when}"
    if times * count > MOST_TIMES * count:
        return f"charge from something else than the sun {when}, or {less}{sky}{table}"
    wanted = max(math.ceil(count * times - 1e-9), count)
    kinds = {module.name for array in energy.arrays for module in array.modules}
    what = f"modules like `{kinds.pop()}`" if len(kinds) == 1 else "modules of the same kinds"
    parts = [f"{wanted} {what} in place of {count}"] if wanted > count else []
    more = wanted / count
    if any(h.noon.number * more > h.output.number for b in short for h in b.harvests):
        amps = max(sum(h.noon.number for h in b.harvests) for b in short) * more
        parts.append(f"controllers that pass on {math.ceil(amps - 1e-9)} A together")
    return f"use {' and '.join(parts)}, or {less}{sky}{table}"


def _unclipped(balance: Balance) -> float:
    """What comes in a day (J) where the controllers pass everything on."""
    return sum(harvest.unclipped.number for harvest in balance.harvests)
