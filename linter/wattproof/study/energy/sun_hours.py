"""Peak sun hours of each period: declared, or from a clear sky at the latitude, with their range.

A peak sun hour is an hour of 1000 W/m², so that it times an array's power at standard conditions
is energy.
"""

from __future__ import annotations

from typing import Literal, NamedTuple, TypeAlias

from wattproof.kept import KeptEach, kept
from wattproof.physics import clear_sky
from wattproof.plan.array import COMPASS, String
from wattproof.plan.checks import periods
from wattproof.plan.energy import MONTHS, SEASONS, YEAR
from wattproof.plan.root import Plan
from wattproof.record import record
from wattproof.source import Place, Text
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.energy import (
    DULL_WINTERS,
    NO_HEIGHT,
    NO_SUN_HOURS,
    NO_TILT,
    SUN_AT_BEST,
    SUN_AT_WORST,
    SUN_BEYOND,
    TWILIGHT,
)
from wattproof.study.assumptions.readings import HAZIEST_CLEAR_AIR
from wattproof.study.limits import exceeds
from wattproof.study.site.lying import may_be_raised
from wattproof.working import Value, declared, function, tabled

Month: TypeAlias = Literal["darkest", "brightest"]

_SKY = "Ineichen and Perez 2002, doi 10.1016/S0038-092X(02)00045-2"
LEVEL = 15.0  # ° of tilt up to which modules count as lying
WORTH_RAISING = 0.5  # h of sun on the best plane, below which raising gains next to nothing


class Period(NamedTuple):
    """A period of the plan.

    months: from 1 to 12, empty where the name tells none. season: that its air is taken from, empty
    where it tells none. at: where its sun hours stand, or the latitude that they follow from.
    """

    name: str
    at: Place
    months: tuple[int, ...]
    season: str

    @property
    def when(self) -> str:
        """In which part of the year, for a sentence."""
        if self.name == YEAR:
            return "over the year"
        if self.name in MONTHS:
            return f"in {self.name.capitalize()}"
        return f"in {self.name}" if self.name in SEASONS else f"in `{self.name}`"


@record
class SunHours:
    """Peak sun hours a day (s): at least, at most, and more than a period without a cloud has.

    clearest: None where the latitude or the months are not known. brightest: the brightest moment
    of a clear day over full sun, likewise. sky: the kind of sky that they are for; empty where they
    are declared. told: True where the plan declares them, or the sky.
    """

    least: Value
    most: Value
    clearest: Value | None
    brightest: Value | None
    sky: str = ""
    told: bool = True


@record
class TooMuch:
    """Declared sun hours (s) of a string that no clear sky brings in a period.

    level: True where its modules are taken to lie level, since nobody told how they lie.
    """

    string: String
    period: Period
    hours: Value
    limit: Value
    level: bool


@record
class Lying:
    """Modules that lie level where the winter sun is low.

    loss: share of a clear day's sun that is lost against the best tilt (°), in the darkest month.
    noon: where the sun stands at noon then.
    """

    string: String
    best: float
    month: str
    loss: Value
    noon: str


@record
class TurnedAway:
    """Raised modules that do not look to the noon sun.

    loss: share of the sun of clear days in the months in use that is lost against the same tilt
    towards the noon sun. noon: where that is.
    """

    string: String
    loss: Value
    noon: str


class Sun:
    """The sun on each string, by period."""

    def __init__(self, plan: Plan, assume: Assumer) -> None:
        self.plan = plan
        self.assume = assume
        self._tilts: KeptEach[str, Value] = KeptEach()

    @kept
    def periods(self) -> tuple[Period, ...]:
        """The periods that the plan tells apart."""
        return tuple(self._period(name) for name in periods(self.plan))

    @kept
    def latitude(self) -> Value | None:
        """Latitude (°), north positive; None where the plan does not say."""
        written = self.plan.site.latitude
        return declared(written, "φ", "latitude") if written is not None else None

    @kept
    def height(self) -> Value:
        """Height above the sea (m)."""
        written = self.plan.site.height
        if written is not None:
            return declared(written, "z", "height above the sea")
        return self.assume.value(NO_HEIGHT, "site", self._place)

    def of(self, string: String, period: Period) -> SunHours | None:
        """The sun hours of a string; None where neither they nor the latitude are declared."""
        energy = self.plan.energy
        assert energy is not None
        limits = self._clearest(string, period), self._brightest(string, period)
        if energy.sun_hours is not None:
            written = energy.sun_hours.of(period.name)
            hours = declared(written, f"H({period.name})", f"sun hours a day {period.when}")
            return SunHours(hours, hours, *limits)
        worst = self._clear(string, period, "darkest")
        best = self._clear(string, period, "brightest")
        if worst is None or best is None:
            return None
        sky, dull, told = self._dull_month(period)
        fairer = SUN_AT_BEST.value[sky] / SUN_AT_WORST.value[sky]
        words = f"a fair month over a dull one under a {sky} sky"
        fair = dull * tabled(fairer, "", "kfairer", words, SUN_AT_BEST.source)
        words = f"sun hours a day {period.when}"
        least = (dull * worst).named("Hleast", f"{words}, at least", "s")
        most = self._with_twilight(fair * best, best).named("Hmost", f"{words}, at most", "s")
        return SunHours(least, most, *limits, sky, told)

    def impossible(self, string: String, period: Period) -> TooMuch | None:
        """Declared sun hours above what a clear sky brings; None where they are within it."""
        assert self.plan.energy is not None
        if self.plan.energy.sun_hours is None:
            return None
        hours = self.of(string, period)
        if hours is None or hours.clearest is None or not exceeds(hours.most, hours.clearest):
            return None
        level = string.tilt is None and not may_be_raised(string, self.plan)
        return TooMuch(string, period, hours.most, hours.clearest, level)

    def lying(self, string: String) -> Lying | None:
        """What a string loses by lying level in winter; None where it is raised or not used then.

        The months of a period with a name of its own are not known, and those of the year are all.
        """
        darkest = self._darkest
        if self.latitude is None or darkest is None or self.tilt(string).number > LEVEL:
            return None
        place = self.latitude.number
        best, hours = clear_sky.best_tilt(place, darkest, height=self.height.number)
        if hours < WORTH_RAISING:
            return None
        here = self._clear_in(string, darkest, clear_sky.CLEAR_AIR)
        month = MONTHS[darkest - 1].capitalize()
        words = f"sun hours of a clear day in {month} on the best plane, {best:g}° steep"
        raised = self._clear_sky(3600.0 * hours, clear_sky.CLEAR_AIR).named("Hbest", words, "s")
        lying = self._clear_sky(3600.0 * here, clear_sky.CLEAR_AIR, self.tilt(string))
        words = f"sun hours of a clear day in {month} on {string.name}"
        loss = 1.0 - lying.named(f"H({string.name})", words, "s") / raised
        words = f"sun lost to lying level in {month}"
        return Lying(
            string, best, month, loss.named(f"loss({string.name})", words, "%"), self._noon
        )

    def turned_away(self, string: String) -> TurnedAway | None:
        """What a string loses by where it looks; None where it lies level, or that is not told."""
        months = sorted({month for period in self.periods for month in period.months})
        level = self.tilt(string).number <= LEVEL
        if self.latitude is None or string.facing is None or level or not months:
            return None
        latitude, height = self.latitude.number, self.height.number

        def hours(azimuth: float, symbol: str, words: str) -> Value:
            plane = self.tilt(string).number, azimuth
            found = [clear_sky.sun_hours(latitude, m, *plane, height=height) for m in months]
            mean = 3600.0 * sum(found) / len(found)
            value = self._clear_sky(mean, clear_sky.CLEAR_AIR, self.tilt(string))
            return value.named(symbol, f"sun hours of a clear day on {words}", "s")

        name = str(string.name)
        here = hours(self._azimuth(string), f"H({name})", f"{name}, facing {string.facing}")
        noon = hours(self._noon_azimuth, "Hnoon", f"the same tilt, facing {self._noon}")
        words = f"sun that {name} loses by facing {string.facing}"
        loss = (1.0 - here / noon).named(f"loss({name})", words, "%")
        return TurnedAway(string, loss, self._noon)

    def tilt(self, string: String) -> Value:
        """How far a string's modules are raised (°)."""
        return self._tilts.of(str(string.name), lambda: self._tilt(string))

    def _tilt(self, string: String) -> Value:
        name = str(string.name)
        if string.tilt is None:
            return self.assume.value(NO_TILT, name, string.at)
        return declared(string.tilt, f"tilt({name})", f"tilt of {name}")

    def _dull_month(self, period: Period) -> tuple[str, Value, bool]:
        """The sky of a period, the share of a clear day's sun in a dull month, if it is told."""
        energy = self.plan.energy
        sky = energy.sky.of(period.name, period.season) if energy and energy.sky else None
        if sky is not None:
            words = f"share of a clear day's sun in a dull month under a {sky} sky"
            share = tabled(SUN_AT_WORST.value[sky], "%", "kdull", words, SUN_AT_WORST.source)
            return str(sky), share, True
        away = abs(self.latitude.number) if self.latitude is not None else 0.0
        dull = period.season == "winter" and away >= DULL_WINTERS.value
        kind = "dull" if dull else "mixed"
        share = self.assume.value(NO_SUN_HOURS, period.name, self._place, kind=kind)
        taken = next(s for s, least in SUN_AT_WORST.value.items() if least == share.number)
        return taken, share, False

    def _with_twilight(self, hours: Value, clear: Value) -> Value:
        """Sun hours with what the middle of a month leaves out where the sun hardly rises.

        Nothing in the polar night, nor where a clear day brings an hour of full sun or more.
        """
        if not 0.0 < clear.number < 3600.0:
            return hours
        left = TWILIGHT.value * (3600.0 - clear.number)
        words = "twilight, bent light and the longer half of the month"
        more = tabled(left, "s", "Htwilight", words, TWILIGHT.source)
        return hours + more

    @property
    def _place(self) -> Place:
        written = self.plan.site.latitude
        place: Place = written.place if written is not None else self.plan.setting.place
        return place

    @property
    def _darkest(self) -> int | None:
        """The month with the lowest sun of those in use; None where none is of winter."""
        south = self.latitude is not None and self.latitude.number < 0.0
        used = {month for period in self.periods for month in period.months}
        by_darkness = (6, 7, 5) if south else (12, 1, 11)
        return next((month for month in by_darkness if month in used), None)

    def _period(self, written: Text) -> Period:
        south = self.latitude is not None and self.latitude.number < 0.0
        sun = self.plan.energy.sun_hours if self.plan.energy is not None else None
        at = self._place if sun is None else sun.of(written).place
        name = str(written)
        if name in SEASONS:
            return Period(name, at, _months(SEASONS.index(name), south=south), name)
        if name in MONTHS:
            month = MONTHS.index(name) + 1
            quarter = (month % 12 // 3 + (2 if south else 0)) % 4
            return Period(name, at, (month,), SEASONS[quarter] if self.latitude else "")
        return Period(name, at, tuple(range(1, 13)) if name == YEAR else (), "")

    def _clearest(self, string: String, period: Period) -> Value | None:
        """More sun hours (s) than a clear sky brings to modules as they lie.

        Of modules of which nobody told: on the level, or the best plane where they may be raised.
        """
        if self.latitude is None or not period.months:
            return None
        air = clear_sky.CLEAREST_AIR
        if string.tilt is None and may_be_raised(string, self.plan):
            place, high = self.latitude.number, self.height.number
            tilts = [clear_sky.best_tilt(place, month, air, high) for month in period.months]
            found = self._clear_sky(3600.0 * max(hours for _, hours in tilts), air)
        else:
            # Modules that look away from the sun get most where haze scatters it.
            airs = (air, clear_sky.CLEAR_AIR, HAZIEST_CLEAR_AIR.value)
            hours = max(self._clear_in(string, m, a) for m in period.months for a in airs)
            found = self._clear_sky(3600.0 * hours, air, self.tilt(string))
        words = f"sun hours of the clearest middle of a month {period.when}"
        found = found.named(f"Hclearest({period.name})", words, "s")
        told = self.plan.site.height is not None
        why = "snow, cold cells" if told else "mountains, snow, cold cells"
        factor = SUN_BEYOND.value["told" if told else "unknown"]
        beyond = tabled(factor, "", "kbeyond", why, SUN_BEYOND.source)
        words = f"more sun hours a day than a clear sky brings {period.when}"
        return self._with_twilight(found * beyond, found).named("Hlimit", words, "s")

    def _clear(self, string: String, period: Period, which: Month) -> Value | None:
        """Sun hours of a clear day (s) in a month of a period."""
        if self.latitude is None or not period.months:
            return None
        choose = min if which == "darkest" else max
        air = clear_sky.CLEAR_AIR
        hours = choose(self._clear_in(string, month, air) for month in period.months)
        words = f"sun hours of a clear day {period.when}, its {which} month"
        found = self._clear_sky(3600.0 * hours, air, self.tilt(string))
        return found.named(f"Hclear({period.name})", words, "s")

    def _brightest(self, string: String, period: Period) -> Value | None:
        """The brightest moment of a clear day, over 1000 W/m².

        None, too, where sun hours are declared and the plane that they are for is not known.
        """
        assert self.plan.energy is not None
        unknown = string.tilt is None and self.plan.energy.sun_hours is not None
        if self.latitude is None or not period.months or unknown:
            return None
        here, plane = self.latitude.number, (self.tilt(string).number, self._azimuth(string))
        high = self.height.number
        watts = max(
            clear_sky.brightest_moment(here, month, *plane, high) for month in period.months
        )
        found = self._clear_sky(watts / 1000.0, clear_sky.CLEAR_AIR, self.tilt(string))
        return found.named("kbright", f"brightest moment {period.when} over full sun", "")

    def _clear_sky(self, number: float, air: float, *inputs: Value) -> Value:
        assert self.latitude is not None
        turbidity = tabled(air, "", "TL", "Linke turbidity of the air", _SKY)
        return function("clear sky", number, self.latitude, self.height, turbidity, *inputs)

    def _clear_in(self, string: String, month: int, air: float) -> float:
        """Sun hours (h) of a clear day of a month on a string."""
        assert self.latitude is not None
        plane = self.tilt(string).number, self._azimuth(string)
        return clear_sky.sun_hours(self.latitude.number, month, *plane, air, self.height.number)

    def _azimuth(self, string: String) -> float:
        """Where a string faces (° clockwise from north); the noon sun where nobody told."""
        if string.facing is not None:
            return 45.0 * COMPASS.index(string.facing)
        return self._noon_azimuth

    @property
    def _noon_azimuth(self) -> float:
        """Where the noon sun stands (° clockwise from north)."""
        return 180.0 if self.latitude is not None and self.latitude.number >= 0.0 else 0.0

    @property
    def _noon(self) -> str:
        return "south" if self._noon_azimuth else "north"


def _months(season: int, *, south: bool) -> tuple[int, ...]:
    """The months of a season: winter is December to February in the north."""
    first = 12 + 3 * season + (6 if south else 0)
    return tuple((first + i - 1) % 12 + 1 for i in range(3))
