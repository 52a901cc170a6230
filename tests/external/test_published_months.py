"""Sun hours by sky, against published monthly means of twelve places from 24° to 65° north.

The table, with its sources, is tests/external/tables/monthly_sun.csv; two typical years more, also
on steep planes, are in test_typical_years.py. Latitudes and heights of the stations are from
memory.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import pytest

from plans import BASE, edited
from wattproof.plan.energy import MONTHS, SEASONS
from wattproof.study import Study
from wattproof.study.energy.sun_hours import SunHours
from wattproof.testing import study_of

TABLE = Path(__file__).parent / "tables" / "monthly_sun.csv"
ROWS = list(csv.DictReader(r for r in TABLE.read_text().splitlines() if not r.startswith("#")))
PLACES = [row["place"] for row in ROWS]


def of_place(place: str) -> dict[str, str]:
    return next(row for row in ROWS if row["place"] == place)


@cache
def by_month(place: str, sky: str = "") -> dict[str, SunHours]:
    """Sun hours of level modules in each month; sky: in place of the season's own."""
    row = of_place(place)
    skies = dict(zip(SEASONS, row["skies"].split(), strict=True))
    told = "{" + ", ".join(f"{season}: {sky or own}" for season, own in skies.items()) + "}"
    study = _study(row, f"  sky: {told}\n")
    return _months(study)


def _study(row: dict[str, str], sky: str) -> Study:
    site = f"  hottest: 40 °C\n  latitude: {row['latitude']}°\n  height: {row['height']} m\n"
    plan = edited(
        ("  hottest: 40 °C\n", site),
        ("mounting: roof-gap", "mounting: roof-gap, tilt: 0°"),
        plan=BASE,
    )
    return study_of(f"{plan}energy:\n{sky}  uses: {{pump: {{hours: {{{_each('1 h')}}}}}}}\n"
                    "loads:\n  pump: {power: 10 W}\n")  # fmt: skip


def _each(hours: str) -> str:
    return ", ".join(f"{month}: {hours}" for month in MONTHS)


def _months(study: Study) -> dict[str, SunHours]:
    sun = study.energy.sun
    assert sun is not None
    [string] = study.plan.strings.values()
    found = {period.name: sun.of(string, period) for period in sun.periods}
    return {name: hours for name, hours in found.items() if hours is not None}


def published(place: str, month: str) -> float:
    """Seconds of full sun a day."""
    return float(of_place(place)[month[:3]]) * 3.6


@pytest.mark.parametrize("month", MONTHS)
@pytest.mark.parametrize("place", PLACES)
def test_each_month_lies_within_its_sky(place: str, month: str) -> None:
    hours = by_month(place)[month]
    assert hours.least.number < published(place, month) < hours.most.number


@pytest.mark.parametrize("month", MONTHS)
@pytest.mark.parametrize("place", PLACES)
def test_no_month_is_more_than_a_clear_sky_brings(place: str, month: str) -> None:
    """So that nobody who writes a published table is told that it cannot be."""
    limit = by_month(place)[month].clearest
    assert limit is not None
    assert published(place, month) < limit.number


@pytest.mark.parametrize("place", PLACES)
def test_skies_are_ranges_that_say_something(place: str) -> None:
    """The years of a sunny place are not those of a dull one, nor the other way round."""
    skies = set(of_place(place)["skies"].split())
    for other, wrong in (("sunny", "dull"), ("dull", "sunny")):
        if other in skies:
            outside = [
                month
                for month, hours in by_month(place, wrong).items()
                if not hours.least.number < published(place, month) < hours.most.number
            ]
            assert len(outside) >= 3


def test_a_sunny_place_reaches_the_clear_sky_and_is_not_asked_for_three_times_the_modules() -> None:
    """Months of Phoenix are up to 99 % of our clear day; the old 30 % would have cost 2.4 times."""
    worst = min(
        published("Phoenix", month) / hours.least.number
        for month, hours in by_month("Phoenix").items()
    )
    most = max(
        published("Phoenix", month) / hours.least.number
        for month, hours in by_month("Phoenix").items()
    )
    assert 1.0 < worst < most < 1.5


@pytest.mark.parametrize("place", PLACES)
def test_where_nobody_tells_the_sky_the_year_lies_within_the_range(place: str) -> None:
    """By latitude and season alone: the sun of the whole year, not of each month."""
    found = _months(_study(of_place(place), ""))
    year = sum(published(place, month) for month in MONTHS)
    assert sum(h.least.number for h in found.values()) < year
    if "sunny" not in of_place(place)["skies"]:
        assert year < sum(h.most.number for h in found.values())
