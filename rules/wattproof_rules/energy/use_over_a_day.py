"""Uses that no day holds: alone, or of what never runs at the same time."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof.words import quoted
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.energy.in_a_day import TooLong


DAY = 24.0 * 3600.0  # s

BASIS = {
    "common practice": practice(
        "energy over rated power is the time that something runs, and a day has 24 hours: what "
        "comes out longer was counted for a week, or in another unit, or belongs to a larger load"
    ),
}


@rule(
    id="use-over-a-day",
    summary="Hours that a day's use takes, against the 24 that a day has.",
    covers=("A use that no day holds",),
    level="warning",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="What a load takes in a day, over its power, is how long it runs. More than 24 "
    "hours are a slip: kWh for Wh, a week's use, or the power of standby in place of the full one. "
    "The same holds for loads that by `together` never run at once: one after the other they need "
    "the sum of their hours. The balance of a day is no better than these figures.",
    fine="Where the label's power is not the most that it takes, as of a motor: write that power.",
    since="0.3.0",
    sound=plan(
        "van-refrigerator",
        Edit("hours: {winter: 3 h, summer: 8 h}", "energy: {winter: 130 Wh, summer: 360 Wh}"),
    ),
    faulty=Edit("power: 45 W", "power: 4.5 W"),
)
def use_over_a_day(study: Study) -> Iterator[Observation]:
    worst: dict[tuple[str, ...], TooLong] = {}
    for found in study.energy.too_long:
        names = tuple(str(consumer.name) for consumer in found.consumers)
        if names not in worst or found.whole.number > worst[names].whole.number:
            worst[names] = found
    for names, found in worst.items():
        yield _observation(names, found)


def _observation(names: tuple[str, ...], found: TooLong) -> Observation:
    when = found.period.when
    if len(names) > 1:
        message = (
            f"{quoted(names)} never run at the same time, by `together`, and need "
            f"{found.whole} a day {when}"
        )
        remedy = (
            "look at the hours of each, or write those that may run at once into one list of "
            "`together`"
        )
    else:
        message = f"`{names[0]}` would have to run {found.whole} a day {when} for its use"
        remedy = (
            "look at the unit of the use and at the power of the load; a use is that of one day"
        )
    return Observation(
        message=message,
        on=found.consumers,
        values=(*(found.each if len(names) > 1 else ()), found.whole),
        margin=margin_below(found.whole, DAY),
        remedy=remedy,
    )
