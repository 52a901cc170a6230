"""The yield of a whole day that a display showed, against what the sky can bring on that day.

The most is that of very clear air, snow around, cold cells and nothing lost; the least that of a
hazy day that still looks clear, hot cells and the losses of a poor installation. A display that was
not told to start anew, another unit, or a wrong plan shows more than the most.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from wattproof.kept import kept
from wattproof.physics import clear_sky
from wattproof.plan.array import COMPASS, String
from wattproof.plan.fields import Named
from wattproof.plan.readings import Reading
from wattproof.plan.site import Site
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.energy import (
    ARRAY_YIELD_AT_WORST,
    BRIGHTEST_DAY,
    CONVERSION_AT_WORST,
    SUN_BEYOND,
)
from wattproof.study.assumptions.readings import (
    CLEAR_SKY_MODEL,
    HAZIEST_CLEAR_AIR,
    HEAT_OF_DAYS,
    ISC_OF_LABEL,
    METER_POWER,
    REPEATED,
)
from wattproof.study.limits import LEAST_POWER, exceeds
from wattproof.study.readings.conditions import Band, half_digit
from wattproof.study.readings.read_at import ReadAt
from wattproof.study.readings.slips import by_its_point, meant, mostly_used
from wattproof.working import Value, declared, function, tabled

PASSES_ALL: Final = 0.95
"""Share of a clear day from which a controller's output is taken to pass on all of it."""
LOWEST_BATTERY: Final = 10.0
"""V into which a controller's current goes at least, where its charge voltage is not told."""
_SKY: Final = "Ineichen and Perez 2002, doi 10.1016/S0038-092X(02)00045-2"


@dataclass(eq=False)
class DayReading(ReadAt):
    """A day's yield read at a controller, and the array that made it."""

    reading: Reading
    array: ArrayStudy
    site: Site
    assume: Assumer

    @property
    def subjects(self) -> tuple[Reading, Named]:
        """The reading and the controller that showed it."""
        return self.reading, self.array.controller

    @kept
    def share(self) -> Value | None:
        """The yield over what a clear sky brings that day, label for label.

        None where no clear day is told with a battery that took all of it, or where the controller
        passes on less than the array gives: then days do not compare.
        """
        if self.least is None or self._passed_on.number < PASSES_ALL:
            return None
        [plane, *others] = self._planes(brightest=False)
        if others and any(other != plane for other in others):
            return None
        sun = self._sun(self._hours(clear_sky.CLEAR_AIR, plane), clear_sky.CLEAR_AIR)
        words = f"yield at {self.where} over a clear day's, by {self.name}"
        given = self.array.power("standard") * sun
        return (self.shown / given).named(f"k({self.name})", words, "%")

    @kept
    def changes(self) -> float:
        """The share by which the yield may differ from the next of the same array: haze and heat.

        Half of what lies between the clearest air and haze that still looks clear.
        """
        [plane, *_] = self._planes(brightest=False)
        least, likely, most = (
            self._hours(air, plane)
            for air in (HAZIEST_CLEAR_AIR.value, clear_sky.CLEAR_AIR, clear_sky.CLEAREST_AIR)
        )
        by_haze = (most - least) / 2.0 / likely if likely > 0.0 else 1.0
        return math.hypot(by_haze, HEAT_OF_DAYS.value, REPEATED.value * METER_POWER.value)

    def _hours(self, air: float, plane: tuple[float, float]) -> float:
        here, high = self._place
        return clear_sky.day_hours(here, self._days[0], *plane, air, high)

    @kept
    def shown(self) -> Value:
        """What the display showed (J)."""
        written = self.reading.day_yield
        assert written is not None
        return declared(written, f"W({self.name})", f"yield of a day read at {self.where}")

    @kept
    def _half_digit(self) -> Value:
        assert self.reading.day_yield is not None
        return half_digit(self.reading.day_yield)

    @kept
    def most(self) -> Value:
        """More than any sky brings on that day (J); of the brightest month where none is told.

        Anywhere on earth, where no latitude is told.
        """
        power = self.array.power("standard")
        told = self.site.latitude is None or self.site.height is not None
        factor = SUN_BEYOND.value["told" if told else "unknown"]
        beyond = tabled(factor, "", "kbeyond", "snow, cold cells, height", SUN_BEYOND.source)
        off = max(
            ISC_OF_LABEL.value[str(m.sheet.build)]
            for s in self.array.all_strings
            for m in s.modules
        )
        better = tabled(1.0 + off, "", "klabel", "modules over their label", ISC_OF_LABEL.source)
        most = power * self._most_sun * beyond * better
        return most.named(f"Wmost({self.name})", "more than any sky brings that day", "J")

    @property
    def _most_sun(self) -> Value:
        """Sun of the clearest such day on the best plane that the modules may lie in (s)."""
        if self.site.latitude is None:
            anywhere, source = BRIGHTEST_DAY.value, BRIGHTEST_DAY.source
            return tabled(3600.0 * anywhere, "s", "Hday", BRIGHTEST_DAY.words, source)
        hours = max(
            clear_sky.day_hours(here, day, tilt, turn, clear_sky.CLEAREST_AIR, high)
            for here, high in [self._place]
            for day in self._days
            for tilt, turn in self._planes(brightest=True)
        )
        return self._sun(hours, clear_sky.CLEAREST_AIR)

    @property
    def least(self) -> Value | None:
        """What a clear day brings at least (J), of an array that takes all there is.

        None where no clear sky, no day, no place or no plane is told: then anything may be right.
        """
        return None if self.reading.sky is None or self.lacks else self._least

    @kept
    def _least(self) -> Value | None:
        """The same if the battery took all of it, and modules lie level whose tilt is not told."""
        if self.site.latitude is None or self.reading.date is None:
            return None
        here, high = self._place
        air = HAZIEST_CLEAR_AIR.value
        hours = min(
            clear_sky.day_hours(here, self._days[0], tilt, turn, air, high)
            for tilt, turn in self._planes(brightest=False)
        )
        hours *= 1.0 - CLEAR_SKY_MODEL.value
        kind = self.array.controller.kind
        losses = LEAST_POWER * ARRAY_YIELD_AT_WORST.value * CONVERSION_AT_WORST.value[kind]
        left = tabled(
            losses, "", "kleast", "left by a poor installation", ARRAY_YIELD_AT_WORST.source
        )
        power = self.array.power("hottest")
        least = power * self._sun(hours, air) * left * self._passed_on
        return least.named(f"Wleast({self.name})", "what a clear day brings at least", "J")

    @property
    def lacks(self) -> tuple[str, ...]:
        """The keys without which nothing can be said of too little on a clear day."""
        needed = {
            "date": self.reading.date is not None,
            "stage: bulk": self.reading.stage == "bulk",
            "latitude": self.site.latitude is not None,
            "tilt": all(s.tilt is not None for s in self.array.declared_strings),
        }
        return tuple(key for key, told in needed.items() if not told)

    @property
    def is_over(self) -> bool:
        """True where it is more than any sky brings."""
        return exceeds(self.shown - self._half_digit, self.most)

    @property
    def is_low(self) -> bool:
        """True where it is less than a clear day brings at least, of what the output passes on."""
        if self.least is None:
            return False
        return exceeds(self.least, self.shown + self._half_digit)

    @property
    def may_be_low(self) -> bool:
        """True where a clear day is told and not all that too little hangs on, and it may be."""
        if self.reading.sky is None or not self.lacks or self.is_over:
            return False
        return self._least is None or exceeds(self._least, self.shown + self._half_digit)

    @property
    def meant(self) -> Value | None:
        """The yield that would be right if its prefix was misread (J); None where none would."""
        if self.least is None:
            return None
        shown = self.shown
        return meant(Band(shown, shown, shown), Band(self.least, self.most, self.most))

    @property
    def meant_less(self) -> Value | None:
        """The same of one that is too much, by its prefix or its decimal point (J)."""
        shown = self.shown
        band, used = Band(shown, shown, shown), mostly_used(self.most)
        return meant(band, used) or by_its_point(band, used)

    @property
    def _passed_on(self) -> Value:
        """Share of a clear day's energy that the controller's output lets pass at least.

        Nothing, where its limit is not told: then anything may be right.
        """
        controller = self.array.controller
        limit = controller.limited_to or controller.max_output_current
        volts = controller.charge_voltage.value if controller.charge_voltage else LOWEST_BATTERY
        power = self.array.power("standard")
        ratio = limit.value * volts / power.number if limit is not None else 0.0
        share = function("kept of half a sine", clear_sky.kept_under_limit(ratio), power)
        return share.named("kclip", f"share that {controller.name} passes on at least", "")

    @property
    def _days(self) -> list[int]:
        if self.reading.date is not None:
            return [self.reading.date.timetuple().tm_yday]
        return list(clear_sky.MIDDLE_DAYS)

    @property
    def _place(self) -> tuple[float, float]:
        assert self.site.latitude is not None
        return self.site.latitude.value, self.site.height.value if self.site.height else 0.0

    def _planes(self, *, brightest: bool) -> Iterable[tuple[float, float]]:
        """Tilt and facing (°) that the strings may have."""
        for string in self.array.declared_strings:
            yield from _planes(string, self._place[0], brightest=brightest)

    def _sun(self, hours: float, air: float) -> Value:
        assert self.site.latitude is not None
        turbidity = tabled(air, "", "TL", "Linke turbidity of the air", _SKY)
        place = declared(self.site.latitude, "φ", "latitude")
        found = function("clear sky", 3600.0 * hours, place, turbidity)
        return found.named("Hday", "sun hours of that day under a clear sky", "s")


def _planes(string: String, latitude: float, *, brightest: bool) -> Iterable[tuple[float, float]]:
    noon = 180.0 if latitude >= 0.0 else 0.0
    if string.tilt is not None:
        turn = 45.0 * COMPASS.index(string.facing) if string.facing is not None else noon
        return [(string.tilt.value, turn)]
    return [(float(tilt), noon) for tilt in range(0, 91, 15)] if brightest else [(0.0, noon)]
