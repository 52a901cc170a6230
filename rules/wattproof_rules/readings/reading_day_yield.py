"""The yield of a whole day that a display showed, against what the sky can bring on that day."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.day import DayReading


BASIS = {
    "common practice": practice(
        "on a clear day an array brings its label's power times the peak sun hours of the day, "
        "less a fifth to a third; a display that shows more counts something else, or "
        "in another unit"
    ),
}

MORE = """\
readings:
  midsummer: {at: tracker.pv, day_yield: 1.6 kWh, date: 2026-06-21}
"""


@rule(
    id="reading-day-yield",
    summary="Energy of a day that a display showed, against what the sky can bring on that day.",
    covers=("A display that counts more than the sun brings",),
    level="warning",
    hazard="lost-energy",
    part="reading",
    basis=BASIS,
    explanation="What comes in a day follows from the latitude, the date and how the modules lie: "
    "even under the clearest sky it ends at the label's power times a few hours. A display that "
    "shows more adds up several days, counts watt-hours where kilowatt-hours were written, or "
    "belongs to an array that is not as the plan says. One that shows much less on a clear day, "
    "with a battery that took all of it, tells of dirt, shade or a string that does not work.",
    fine="Where the display counts from another hour, or the battery was full before evening: "
    "write that beside the reading.",
    since="0.2.0",
    sound=plan("van", Edit("site: {", "site: {latitude: 47°, "), more=MORE),
    faulty=Edit("day_yield: 1.6 kWh", "day_yield: 16 kWh"),
)
def reading_day_yield(study: Study) -> Iterator[Observation]:
    for day in study.readings.of_days:
        if day.is_over:
            yield _over(day)
        elif day.is_low:
            yield _low(day)


def _over(day: DayReading) -> Observation:
    most = day.most
    when = f"on {day.reading.date}" if day.reading.date is not None else "in the brightest month"
    if day.site.latitude is None:
        when = "anywhere on earth"
    meant = day.meant_less
    unit = (
        ""
        if meant is None
        else f"; {meant} would be right, so the unit or the decimal point was misread"
    )
    return Observation(
        message=f"`{day.where}` showed {day.shown} in a day, and no sky gives its array more than "
        f"{most} {when}{unit}",
        on=(day.reading, day.array.controller, *day.array.declared_strings),
        values=(day.shown, most),
        margin=margin_below(day.shown, most),
        remedy="look whether the display shows one day or the sum of several, and in Wh or kWh; "
        "then whether the plan has all modules",
    )


def _low(day: DayReading) -> Observation:
    least = day.least
    assert least is not None
    meant = day.meant
    unit = f"; {meant} would be right, so the unit was misread" if meant is not None else ""
    return Observation(
        message=f"`{day.where}` showed {day.shown} on the clear {day.reading.date}, where {least} "
        f"is the least that its array brings{unit}",
        on=(day.reading, day.array.controller, *day.array.declared_strings),
        values=(day.shown, least),
        margin=day.shown.number / least.number - 1.0,
        level="note",
        remedy="look at the unit on the display, and write what it showed"
        if meant is not None
        else "look whether the battery was full before evening; if not, clean the glass, look "
        "for shade, and read the current of each string in bulk charging",
    )
