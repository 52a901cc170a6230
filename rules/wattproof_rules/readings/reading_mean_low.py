"""The mean of several readings of one place, against the curve."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof.words import quoted, rounded_up
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.again import Course


BASIS = {
    "common practice": practice(
        "what was read several times, on several days, is better known than what was read once: "
        "what differs by chance falls out of the mean (ISO/IEC Guide 98-3)"
    ),
}

_BESIDE = """\
irradiance: 850 W/m², back_temperature: 48 °C,
          meter: {voltage: 0.5 %, current: 2 %, zero: 0.1 A, irradiance: 5 %}}
"""


def _days(amps: float) -> str:
    """Six readings around a short-circuit current (A)."""
    return "".join(
        f"  day-{number}: {{at: roof-string, isc: {amps + aside:.2f} A, "
        f"date: 2026-06-{9 + number}, {_BESIDE}"
        for number, aside in enumerate((-0.01, 0.01, -0.03, 0.0, 0.02, 0.01), start=1)
    )


@rule(
    id="reading-mean-low",
    summary="The mean of several readings of one place, against the least that the curve gives.",
    covers=("Less power than the curve gives",),
    level="note",
    hazard="lost-energy",
    part="reading",
    basis=BASIS,
    explanation="One reading may be low because the thermometer touched a cool spot, the clamp "
    "drifted or the meter of the sun was tilted. Of several, taken on several days, such chances "
    "cancel out, and what is still missing in the mean is missing: dirt on all modules, labels "
    "that promise too much, or a loss that each reading alone leaves within its band.",
    fine="Where the modules are known to be dirty, or old: half a per cent a year is usual.",
    since="0.3.0",
    sound=plan("van", more=f"readings:\n{_days(4.40)}"),
    faulty=Edit(_days(4.40), _days(3.92)),
)
def reading_mean_low(study: Study) -> Iterator[Observation]:
    for course in study.readings.courses:
        if course.is_low:
            yield _observation(course)


def _observation(course: Course) -> Observation:
    assert course.found is not None
    points, worst, found = course.points, course.worst, rounded_up(course.found.number)
    change = course.per_year
    trend = f"; in a year it changes by {change}" if change is not None else ""
    return Observation(
        message=f"`{course.where}` gave {course.mean} of the {course.words} of its curve in the "
        f"mean of {quoted(point.name for point in points)}, at worst {worst.share} by "
        f"`{worst.name}`: {course.lost} is missing, where {found} would be found{trend}",
        on=(*points[0].subjects, *(point.reading for point in points[1:])),
        values=(course.mean, course.lost, course.found),
        margin=margin_below(course.lost, course.found),
        remedy="clean the glass and look for shade, then read it again with the same meters; if "
        "it stays, with another irradiance meter beside the first",
    )
