"""Problems that only the whole plan shows: uses, periods and shadows of what is not there."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.plan.array import String
from wattproof.plan.energy import MONTHS, SEASONS, YEAR, ByPeriod, Use
from wattproof.plan.resemblance import nearest
from wattproof.plan.root import Plan
from wattproof.plan.shade import Shadow
from wattproof.source import Problem, Text


def periods(plan: Plan) -> tuple[Text, ...]:
    """The periods that a plan tells apart, in its order; only the year where it tells none."""
    energy = plan.energy
    assert energy is not None
    if energy.sun_hours is not None:
        return tuple(energy.sun_hours.each) or (Text(YEAR),)
    written = [each for use in energy.uses.values() for each in use.written.values()]
    named = tuple(dict.fromkeys(name for each in written for name in each.each))
    if not named and energy.sky is not None:
        named = tuple(energy.sky.each)
    if named or plan.site.latitude is None:
        return named or (Text(YEAR),)
    return tuple(Text(season) for season in SEASONS)


def energy_problems(plan: Plan, unreadable: set[str]) -> Iterator[Problem]:
    """Uses of what is no consumer, and periods that do not agree.

    unreadable: names that are declared but could not be read; they are not missing.
    """
    if plan.energy is None:
        return
    for use in plan.energy.uses.values():
        if use.name not in unreadable:
            yield from _not_a_consumer(use, plan)
        for key, each in use.written.items():
            yield from _other_periods(use, key, each, plan)
    if plan.energy.sky is not None:
        known = [*periods(plan), *SEASONS, *MONTHS]
        for name in plan.energy.sky.each:
            if name not in known:
                near = nearest(name, known)
                instead = f"write `{near}`" if near else "write a season or a month"
                yield Problem(name.place, f"`{name}` is neither a season nor a month", instead)


def _not_a_consumer(use: Use, plan: Plan) -> Iterator[Problem]:
    if use.name in plan.all_inverters:
        return
    if use.name in plan.all_loads:
        if use.switched_on is not None:
            message = f"`{use.name}` is a load; `switched_on` is for inverters"
            yield Problem(use.switched_on.place, message, "write `hours`, or delete the key")
        return
    near = nearest(use.name, [*plan.all_loads, *plan.all_inverters])
    instead = f"write `{near}`" if near else "declare it under `loads` or `inverters`"
    yield Problem(use.at, f"there is no load or inverter `{use.name}`", instead)


def _other_periods(use: Use, key: str, each: ByPeriod, plan: Plan) -> Iterator[Problem]:
    if each.year is not None:
        return
    assert plan.energy is not None
    sun, known = plan.energy.sun_hours, periods(plan)
    for name in each.each:
        if sun is not None and name not in known:
            near = nearest(name, known)
            if near is not None and name in (*SEASONS, *MONTHS) and near not in (*SEASONS, *MONTHS):
                wrong = next(period for period in sun.each if period == near)
                message = f"`{near}` of `sun_hours` is neither a season nor a month"
                yield Problem(wrong.place, message, f"write `{name}`")
                continue
            instead = f"write `{near}`" if near else "add it to `sun_hours`, by name"
            yield Problem(name.place, f"`sun_hours` has no period `{name}`", instead)
        elif sun is None and name not in (*SEASONS, *MONTHS):
            near = nearest(name, (*SEASONS, *MONTHS))
            give = "give its sun hours under `sun_hours`"
            instead = f"write `{near}`, or {give}" if near else give
            yield Problem(name.place, f"`{name}` is neither a season nor a month", instead)
    missing = [name for name in known if name not in each.each and not _misspelt(name, each)]
    if missing:
        message = f"`{key}` of `{use.name}` says nothing of `{missing[0]}`"
        zero = "0 Wh" if key == "energy" else "0 h"
        yield Problem(each.place, message, f"add `{missing[0]}: {zero}` or what it is then")


def _misspelt(period: str, each: ByPeriod) -> bool:
    """Whether a period is told by another spelling of its name, which is told already."""
    return any(nearest(name, (period,)) for name in each.each)


def open_problems(plan: Plan) -> Iterator[Problem]:
    """What is left to be chosen with nothing to choose it by."""
    for battery in plan.batteries.values():
        place = battery.open.get("capacity")
        if place is not None and plan.energy is None:
            message = f"nothing tells what `{battery.name}` has to hold"
            instead = "tell what is used in a day under `energy`, or write the capacity"
            yield Problem(place, message, instead)


def shade_problems(plan: Plan) -> Iterator[Problem]:
    """Shadows on modules and groups of cells that their strings do not have."""
    for case in plan.shade.values():
        for shadow in case.shadows:
            string = plan.strings.get(shadow.string)
            if string is not None:
                yield from _not_there(shadow, string, plan)


def _not_there(shadow: Shadow, string: String, plan: Plan) -> Iterator[Problem]:
    layout = string.arrangement
    count = len(string.modules or ()) or int(string.series or 1)
    count = layout.inner * layout.outer if layout is not None else count
    count = int(string.count) if string.count is not None else count
    number = shadow.module
    if number is not None and number > count:
        message = f"`{string.name}` has no module {number}: there are {count}"
        yield Problem(number.place, message, "count from its negative lead; without `module`, all")
        return
    names = string.modules or (string.module,)
    shaded = names if number is None or len(names) == 1 else names[number - 1 : number]
    sheets = [plan.datasheets.modules.get(name) for name in shaded if name is not None]
    diodes = [s.bypass_diodes for s in sheets if s is not None and s.bypass_diodes is not None]
    if shadow.groups is not None and diodes and shadow.groups > max(1, *diodes):
        message = f"no module of `{string.name}` has {shadow.groups} groups of cells"
        instead = f"write at most {max(1, *diodes)}, one for each bypass diode"
        yield Problem(shadow.groups.place, message, instead)
