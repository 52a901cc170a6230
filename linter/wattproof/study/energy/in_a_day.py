"""Whether what is used fits into a day: consumers that never run together share its 24 hours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Final

from wattproof.plan.power import Inverter, Load
from wattproof.record import record
from wattproof.study.energy.daily_use import DAY
from wattproof.study.energy.sun_hours import Period
from wattproof.study.limits import exceeds
from wattproof.words import enumerated
from wattproof.working import Value, total

MOST_WEIGHED: Final = 14
"""Consumers in lists of which all sets are weighed; of more only pairs and threes are."""


@record
class TooLong:
    """Consumers of which none runs with another, and which need more than a day.

    each: for how long each of them has to run in a day (s), in their order. whole: the sum (s).
    """

    period: Period
    consumers: tuple[Load | Inverter, ...]
    each: tuple[Value, ...]
    whole: Value


def too_long(
    hours: dict[str, tuple[Load | Inverter, Value]],
    lists: Sequence[Sequence[str]],
    period: Period,
) -> Iterator[TooLong]:
    """Those alone that need more than a day, and the largest set of which none runs with another.

    hours: for how long each consumer has to run in a day at least (s), by its name. lists: of what
    may run at once; of what stands in none, all may run with all.
    """
    long_alone = [name for name, (_, time) in hours.items() if exceeds(time, DAY)]
    for name in long_alone:
        yield _told((name,), hours, period)
    listed = [n for n in hours if n not in long_alone and any(n in names for names in lists)]
    largest = len(listed) if len(listed) <= MOST_WEIGHED else 3
    found: tuple[str, ...] = ()
    most = DAY
    for size in range(2, largest + 1):
        for names in combinations(listed, size):
            if any(_may_run_together(a, b, lists) for a, b in combinations(names, 2)):
                continue
            whole = sum(hours[name][1].number for name in names)
            if whole > most:
                found, most = names, whole
    if found:
        told = _told(found, hours, period)
        if exceeds(told.whole, DAY):
            yield told


def _may_run_together(one: str, other: str, lists: Sequence[Sequence[str]]) -> bool:
    return any(one in names and other in names for names in lists)


def _told(
    names: Sequence[str], hours: dict[str, tuple[Load | Inverter, Value]], period: Period
) -> TooLong:
    each = tuple(hours[name][1] for name in names)
    words = f"hours a day that {enumerated(names)} need one after the other {period.when}"
    whole = total(list(each)).named("tneeded", words, "s") if len(each) > 1 else each[0]
    return TooLong(period, tuple(hours[name][0] for name in names), each, whole)
