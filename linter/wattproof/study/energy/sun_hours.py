"""Peak sun hours of each period: declared, or from a clear sky at the latitude, with their range.

A peak sun hour is an hour of 1000 W/m², so that it times an array's power at standard conditions
is energy.
"""

from __future__ import annotations

from functools import cached_property
from typing import Literal, NamedTuple, TypeAlias

from wattproof.physics import clear_sky
from wattproof.plan.array import COMPASS, String
from wattproof.plan.checks import periods
from wattproof.plan.energy import MONTHS, SEASONS, YEAR
from wattproof.plan.root import Plan
from wattproof.record import record
from wattproof.source import Place, Text
from wattproof.study.assumptions import Assumed, Assumer
from wattproof.study.assumptions.energy import (
    NO_SUN_HOURS,
    NO_TILT,
    SUN_AT_BEST,
    SUN_AT_WORST,
    SUN_BEYOND,
)
from wattproof.study.limits import exceeds
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
    of a clear day over full sun, likewise.
    """

    least: Value
    most: Value
    clearest: Value | None
    brightest: Value | None


@record
class TooMuch:
    """Declared sun hours (s) of a string that no clear sky brings in a period."""

    string: String
    period: Period
    hours: Value
    limit: Value


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


class Sun:
    """The sun on each string, by period."""

    def __init__(self, plan: Plan, assume: Assumer) -> None:
        self.plan = plan
        self.assume = assume
        self._tilts: dict[str, Value] = {}

    @cached_property
    def periods(self) -> tuple[Period, ...]:
        """The periods that the plan tells apart."""
        return tuple(self._period(name) for name in periods(self.plan))

    @cached_property
    def latitude(self) -> Value | None:
        """Latitude (°), north positive; None where the plan does not say."""
        written = self.plan.site.latitude
        return declared(written, "φ", "latitude") if written is not None else None

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
        dull = self._share_of_clear_sky(SUN_AT_WORST, "dull", period)
        fair = self._share_of_clear_sky(SUN_AT_BEST, "fair", period)
        words = f"sun hours a day {period.when}"
        least = (dull * worst).named("Hleast", f"{words}, at least", "s")
        most = (fair * best).named("Hmost", f"{words}, at most", "s")
        return SunHours(least, most, *limits)

    def impossible(self, string: String, period: Period) -> TooMuch | None:
        """Declared sun hours above what a clear sky brings; None where they are within it."""
        assert self.plan.energy is not None
        if self.plan.energy.sun_hours is None:
            return None
        hours = self.of(string, period)
        if hours is None or hours.clearest is None or not exceeds(hours.most, hours.clearest):
            return None
        return TooMuch(string, period, hours.most, hours.clearest)

    def lying(self, string: String) -> Lying | None:
        """What a string loses by lying level in winter; None where it is raised or not used then.

        The months of a period with a name of its own are not known, and those of the year are all.
        """
        darkest = self._darkest
        if self.latitude is None or darkest is None or self.tilt(string).number > LEVEL:
            return None
        best, hours = clear_sky.best_tilt(self.latitude.number, darkest)
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
        noon = "south" if self.latitude.number > 0.0 else "north"
        return Lying(string, best, month, loss.named(f"loss({string.name})", words, "%"), noon)

    def tilt(self, string: String) -> Value:
        """How far a string's modules are raised (°)."""
        name = str(string.name)
        if name not in self._tilts:
            self._tilts[name] = (
                declared(string.tilt, f"tilt({name})", f"tilt of {name}")
                if string.tilt is not None
                else self.assume.value(NO_TILT, name, string.at)
            )
        return self._tilts[name]

    def _share_of_clear_sky(self, share: Assumed[float], weather: str, period: Period) -> Value:
        return self.assume.value(
            NO_SUN_HOURS, period.name, self._place, number=share.value, weather=weather
        )

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
        """More sun hours (s) than a clear sky brings, on the best plane where none is stated."""
        if self.latitude is None or not period.months:
            return None
        air = clear_sky.CLEAREST_AIR
        if string.tilt is None:
            tilts = [clear_sky.best_tilt(self.latitude.number, m, air) for m in period.months]
            found = self._clear_sky(3600.0 * max(hours for _, hours in tilts), air)
        else:
            hours = max(self._clear_in(string, month, air) for month in period.months)
            found = self._clear_sky(3600.0 * hours, air, self.tilt(string))
        words = f"sun hours of the clearest middle of a month {period.when}"
        found = found.named(f"Hclearest({period.name})", words, "s")
        beyond = tabled(
            SUN_BEYOND.value, "", "kbeyond", "mountains, snow, cold cells", SUN_BEYOND.source
        )
        words = f"more sun hours a day than a clear sky brings {period.when}"
        return (found * beyond).named("Hlimit", words, "s")

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
        watts = max(clear_sky.brightest_moment(here, month, *plane) for month in period.months)
        found = self._clear_sky(watts / 1000.0, clear_sky.CLEAR_AIR, self.tilt(string))
        return found.named("kbright", f"brightest moment {period.when} over full sun", "")

    def _clear_sky(self, number: float, air: float, *inputs: Value) -> Value:
        assert self.latitude is not None
        turbidity = tabled(air, "", "TL", "Linke turbidity of the air", _SKY)
        return function("clear sky", number, self.latitude, turbidity, *inputs)

    def _clear_in(self, string: String, month: int, air: float) -> float:
        """Sun hours (h) of a clear day of a month on a string."""
        assert self.latitude is not None
        plane = self.tilt(string).number, self._azimuth(string)
        return clear_sky.sun_hours(self.latitude.number, month, *plane, air)

    def _azimuth(self, string: String) -> float:
        """Where a string faces (° clockwise from north); north of level ones, where all is one."""
        return 45.0 * COMPASS.index(string.facing) if string.facing is not None else 0.0


def _months(season: int, *, south: bool) -> tuple[int, ...]:
    """The months of a season: winter is December to February in the north."""
    first = 12 + 3 * season + (6 if south else 0)
    return tuple((first + i - 1) % 12 + 1 for i in range(3))
