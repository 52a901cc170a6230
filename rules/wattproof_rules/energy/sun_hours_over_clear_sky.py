"""Declared sun hours against what a clear sky gives at the latitude."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Clause, Edit, Observation, rule
from wattproof.study import Study
from wattproof.study.limits import margin_below
from wattproof_rules.plans import plan

BASIS = {
    "common practice": Clause(
        "Ineichen and Perez, Solar Energy 73 (2002) 151-157",
        "2002",
        "what comes down through very clear air follows from the height of the sun; a quarter more "
        "is allowed for mountains and snow",
        verified=True,
    ),
}


@rule(
    id="sun-hours-over-clear-sky",
    summary="Declared sun hours against the most that a clear sky gives at the latitude.",
    covers=("Sun hours that no clear sky gives",),
    level="warning",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="A peak sun hour is an hour of full sun, 1000 W/m², straight onto the module. From "
    "morning to evening the light of a whole day adds up to a few of them, even where the sun is "
    "up for sixteen hours. Hours of daylight, or a table for another plane, season or hemisphere, "
    "make an array look far larger than it is.",
    fine="Where they were measured in the plane of the modules, or snow and water in front "
    "reflect much.",
    since="0.1.0",
    sound=plan("van-refrigerator", Edit("site: {", "site: {latitude: 30°, ")),
    faulty=Edit("winter: 1.5 h, summer: 5 h", "winter: 1.5 h, summer: 13 h"),
)
def sun_hours_over_clear_sky(study: Study) -> Iterator[Observation]:
    for found in study.energy.too_much_sun:
        period, hours, limit = found.period, found.hours, found.limit
        most = math.floor(limit.number / 360.0) / 10.0
        level = " if they lie level" if found.level else ""
        raised = "; if they are raised, tell their `tilt` and `facing`" if found.level else ""
        yield Observation(
            message=(
                f"`{found.string.name}` is given {hours} of full sun a day {period.when}; no "
                f"sky gives its modules more than {most:g} h there{level}"
            ),
            on=(period, found.string),
            values=(hours, limit),
            margin=margin_below(hours, limit),
            remedy="write the peak sun hours of the place from a table (kWh/m² a day is the same "
            f"number), for modules as they lie; a clear sky brings {most:g} h at most{raised}",
        )
