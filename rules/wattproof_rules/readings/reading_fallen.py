"""What a place gives now against what it gave before."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Clause, Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof.words import quoted, rounded_up
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.readings.again import Fall


BASIS = {
    "iec": Clause(
        "IEC 62446-1 5 and 8",
        "2016",
        "what was measured when an installation was taken into use is kept, and later tests are "
        "compared with it",
        verified=False,
    ),
    "common practice": practice(
        "an array is its own best measure: what it gave in its first summer, in the same sun and "
        "heat, it should give again, less some half a per cent a year"
    ),
}

MORE = """\
readings:
  first-summer: {at: roof-string, voc: 66.9 V, isc: 4.4 A, date: 2025-06-21, time: "12:40",
                 irradiance: 850 W/m², back_temperature: 48 °C,
                 meter: {voltage: 0.5 %, current: 2 %, zero: 0.05 A, irradiance: 5 %}}
  this-summer: {at: roof-string, voc: 66.8 V, isc: 4.35 A, date: 2026-06-23, time: "12:50",
                irradiance: 850 W/m², back_temperature: 48 °C,
                meter: {voltage: 0.5 %, current: 2 %, zero: 0.05 A, irradiance: 5 %}}
"""


@rule(
    id="reading-fallen",
    summary="What was read at a place, against earlier readings of the same place.",
    covers=("An array that gives less than it did",),
    level="warning",
    hazard="lost-energy",
    part="reading",
    basis=BASIS,
    explanation="A label may be off by 5 % and a meter by as much, so that one reading alone shows "
    "only large faults. Between two readings of the same place most of that falls out: the label "
    "is as wrong as before, and so is the greater part of the meter's error. What has fallen all "
    "the same is dirt, shade that has grown, a joint or a diode on its way to fail, or cells that "
    "age faster than they should.",
    fine="Where dirt, snow or a season's shadow is known: read again when it is gone.",
    since="0.2.0",
    sound=plan("van", more=MORE),
    faulty=Edit("isc: 4.35 A", "isc: 4.0 A"),
)
def reading_fallen(study: Study) -> Iterator[Observation]:
    for fall in study.readings.falls:
        if fall.is_found:
            yield _observation(fall)


def _observation(fall: Fall) -> Observation:
    before, later = (quoted(each.name for each in group) for group in (fall.before, fall.later))
    mean, now = ("in the mean " if len(g) > 1 else "" for g in (fall.before, fall.later))
    of = "a clear day" if fall.quantity == "day" else f"the {fall.words} of its curve"
    return Observation(
        message=f"`{fall.where}` gave {now}{fall.share} of {of} by {later} and {mean}"
        f"{fall.share_before} by {before}: it fell by {fall.fell}, where "
        f"{rounded_up(fall.found.number)} would be found{_because(fall)}",
        on=(
            *fall.later[0].subjects,
            *(each.reading for each in (*fall.later[1:], *fall.before)),
        ),
        values=(fall.share, fall.share_before, fall.fell, fall.found),
        margin=margin_below(fall.fell, fall.found),
        remedy=_remedy(fall),
    )


def _because(fall: Fall) -> str:
    return {
        "voc": ", as with a bypass diode that shorts its cells, or hotter cells than were read",
        "isc": ", as with dirt, shade, or an irradiance meter that was held another way",
        "power": ", as with dirt, shade or a joint that goes bad",
        "day": ", as with dirt, shade or a battery that was full before evening",
    }[fall.quantity]


def _remedy(fall: Fall) -> str:
    where = f"`{fall.where}`"
    return {
        "voc": f"read it again with the thermometer behind a cell; if it stays, each module of "
        f"{where} by itself",
        "isc": f"clean the glass of {where}, look for shade, and read it again in the same plane "
        "and with the same meters",
        "day": "look whether the battery was full before evening; if not, clean the glass, look "
        "for shade, and read the current of each string in bulk charging",
        "power": f"clean the glass and look for shade, feel every joint on the way from {where} "
        "for heat with the current off, and read it again in bulk charging",
    }[fall.quantity]
