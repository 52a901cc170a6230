"""Readings of one place at several times: what it gave before is its own curve.

Each value is taken as a share of what the curve gives in its sun and heat. From one time to the
next labels stay as wrong as they were, and so does a part of the meter's error; what changes is the
rest, the spot that the thermometer touches, and a clamp's drift. So a fall is found that is half of
what the label alone would let pass, and the more often it was read, the smaller: each reading is
held against those before it, and all since some day against all until then. Yields of clear days
are compared in the same way, by what a clear sky brings on each.

The mean of all says more of the label than each alone, since what changes from one to the next
falls out of it; the worst and the change from year to year are told beside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final, Literal, TypeAlias

from wattproof.plan.fields import Named
from wattproof.plan.readings import Reading
from wattproof.record import record
from wattproof.study.assumptions.readings import REPEATED, SURELY
from wattproof.study.limits import exceeds
from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.study.readings.conditions import Band, expected, high, low
from wattproof.study.readings.day import DayReading
from wattproof.study.readings.finds import WORDS, finds_of
from wattproof.working import Value, function, total

Repeated: TypeAlias = Literal["voc", "isc", "power", "day"]
QUANTITIES: Final[tuple[Repeated, ...]] = ("voc", "isc", "power")
A_YEAR: Final = 365.25  # days
LEAST_OF_A_TREND: Final = 3
"""Readings of which a change from year to year can be told; two give a line through any error."""
SHORTEST_TREND: Final = 90.0
"""Days that they have to span."""


@record
class Point:
    """One reading of a place: its share of what the curve gives, and by what the next may differ.

    by_label: the smallest loss that it finds beside its label alone, as a share; None of a day.
    """

    of: ArrayReading | DayReading
    share: Value
    changes: float
    by_label: float | None = None

    @property
    def name(self) -> str:
        """The reading's name."""
        return self.of.name

    @property
    def where(self) -> str:
        """The place that was read, as the plan writes it."""
        return self.of.where

    @property
    def reading(self) -> Reading:
        """The reading, as the plan tells it."""
        return self.of.subjects[0]

    @property
    def subjects(self) -> tuple[Reading, Named]:
        """The reading and what it was taken at."""
        return self.of.subjects


Place: TypeAlias = tuple[Repeated, tuple[Point, ...]]
"""One quantity at one place, and all readings of it."""


@record
class Fall:
    """What a place gave less than before.

    later: the readings that are low, one alone or all since some time, in order. before: the
    earlier ones. share: of what the curve gives, in the mean of the later and of those before.
    fell: by how much, as a share of before. found: the smallest fall that would be found.
    """

    quantity: Repeated
    later: tuple[Point, ...]
    before: tuple[Point, ...]
    share: Value
    share_before: Value
    fell: Value
    found: Value

    @property
    def reading(self) -> ArrayReading | DayReading:
        """The first that is low."""
        return self.later[0].of

    @property
    def where(self) -> str:
        """The place that was read, as the plan writes it."""
        return self.later[0].where

    @property
    def words(self) -> str:
        """The quantity in words."""
        return WORDS[self.quantity]

    @property
    def is_found(self) -> bool:
        """True where it fell by more than meters and weather explain."""
        return exceeds(self.fell, self.found)


@record
class Course:
    """All readings of one quantity at one place, in order.

    mean: their mean share of what the curve gives. worst: the lowest of them. found: the smallest
    loss that the mean would find beside the label; None of days. per_year: by how much of the mean
    it changes in a year; None without dates of which that can be told.
    """

    quantity: Repeated
    points: tuple[Point, ...]
    mean: Value
    worst: Point
    found: Value | None
    per_year: Value | None

    @property
    def where(self) -> str:
        """The place that was read, as the plan writes it."""
        return self.points[0].where

    @property
    def words(self) -> str:
        """The quantity in words."""
        return WORDS[self.quantity]

    @property
    def lost(self) -> Value:
        """What the mean lies under the curve, as a share."""
        words = f"{self.words} of {self.where} under its curve, in the mean"
        return (1.0 - self.mean).named("lost", words, "%")

    @property
    def is_low(self) -> bool:
        """True where the mean is too low, and none of its readings is by itself."""
        if self.found is None or not exceeds(self.lost, self.found):
            return False
        alone = (1.0 - p.share.number > (p.by_label or 0.0) for p in self.points)
        return not any(alone)


def falls(places: Iterable[Place]) -> Iterator[Fall]:
    """For every place and quantity that was read more than once: the worst fall."""
    for quantity, points in places:
        found = [_fall(quantity, *each) for each in _against_those_before(points)]
        if found:
            yield max(found, key=lambda fall: fall.fell.number - fall.found.number)


def courses(places: Iterable[Place]) -> Iterator[Course]:
    """For every place and quantity that was read more than once: all of it."""
    for quantity, points in places:
        if len(points) > 1:
            yield _course(quantity, points)


def found_beside(
    quantity: Repeated, reading: ArrayReading, earlier: Iterable[ArrayReading]
) -> tuple[float, tuple[Point, ...]] | None:
    """The smallest fall (share) that a reading would find beside earlier ones, and these.

    None where none of them tells the sun and the heat that it was read in.
    """
    before = [p for each in earlier if (p := _point(each, quantity)) is not None]
    if not before:
        return None
    own = _changes(reading, quantity)
    return SURELY.value * math.hypot(own, _of_mean(before)), tuple(before)


def places(readings: Iterable[ArrayReading], days: Iterable[DayReading]) -> Iterator[Place]:
    """What was read of one quantity at one place, where it can be compared.

    In order of dates and times where all tell them, else in that of the plan.
    """
    listed = list(readings)
    for quantity in QUANTITIES:
        by_place: dict[object, list[Point]] = {}
        for reading in listed:
            point = _point(reading, quantity)
            if point is not None:
                key = (reading.where, reading.taken.array.name)
                by_place.setdefault(key, []).append(point)
        for group in by_place.values():
            yield quantity, tuple(_ordered(group))
    of_days: dict[str, list[Point]] = {}
    for day in days:
        if day.share is not None:
            point = Point(day, day.share, day.changes)
            of_days.setdefault(str(day.array.controller.name), []).append(point)
    for group in of_days.values():
        yield "day", tuple(_ordered(group))


def _point(reading: ArrayReading, quantity: Repeated) -> Point | None:
    share = _share(reading, quantity)
    if share is None:
        return None
    by_label = {each.quantity: each.share.number for each in finds_of(reading)}
    return Point(reading, share, _changes(reading, quantity), by_label.get(quantity))


def _ordered(points: list[Point]) -> list[Point]:
    if any(point.reading.date is None for point in points):
        return points

    def moment(point: Point) -> tuple[str, float]:
        written = point.reading
        return str(written.date), written.time.hours if written.time is not None else 0.0

    return sorted(points, key=moment)


def _against_those_before(
    points: Sequence[Point],
) -> Iterator[tuple[tuple[Point, ...], tuple[Point, ...]]]:
    """Each alone, and all from each on, beside all before it."""
    for number in range(1, len(points)):
        before = tuple(points[:number])
        yield (points[number],), before
        if number + 1 < len(points):
            yield tuple(points[number:]), before


def _fall(quantity: Repeated, later: tuple[Point, ...], before: tuple[Point, ...]) -> Fall:
    where, words = later[0].where, WORDS[quantity]
    now, mean = _mean(later), _mean(before)
    if len(later) > 1:
        now = now.named("since", f"{words} of {where} over its curve, since", "%")
    mean = mean.named("before", f"{words} of {where} over its curve, before", "%")
    fell = (1.0 - now / mean).named("fell", f"{words} of {where} fell by", "%")
    spread = math.hypot(_of_mean(later), _of_mean(before))
    said = f"smallest fall of {words} that {later[0].name} would find"
    found = function("spread of repeated readings", SURELY.value * spread, now, mean)
    return Fall(quantity, later, before, now, mean, fell, found.named("found", said, "%"))


def _course(quantity: Repeated, points: tuple[Point, ...]) -> Course:
    where, words = points[0].where, WORDS[quantity]
    mean = _mean(points).named("mean", f"{words} of {where} over its curve, in the mean", "%")
    worst = min(points, key=lambda point: point.share.number)
    labels = [p.by_label for p in points if p.by_label is not None]
    found = None
    if len(labels) == len(points):
        falls_out = sum(p.changes for p in points) / len(points) - _of_mean(points)
        least = sum(labels) / len(labels) - falls_out
        said = f"smallest loss of {words} that all readings of {where} would find in the mean"
        found = function("spread of repeated readings", least, *(p.share for p in points))
        found = found.named("found", said, "%")
    return Course(quantity, points, mean, worst, found, _per_year(quantity, points, mean))


def _per_year(quantity: Repeated, points: tuple[Point, ...], mean: Value) -> Value | None:
    """The slope of the straight line through all (least squares), as a share of the mean a year."""
    dates = [p.reading.date.toordinal() for p in points if p.reading.date is not None]
    if len(dates) < max(len(points), LEAST_OF_A_TREND) or max(dates) - min(dates) < SHORTEST_TREND:
        return None
    middle = sum(dates) / len(dates)
    across = sum((day - middle) ** 2 for day in dates)
    along = sum((day - middle) * p.share.number for day, p in zip(dates, points, strict=True))
    number = along / across * A_YEAR / mean.number
    words = f"change of {WORDS[quantity]} of {points[0].where} in a year"
    slope = function("straight line", number, *(p.share for p in points), mean)
    return slope.named("peryear", words, "%")


def _mean(points: Sequence[Point]) -> Value:
    return total([p.share for p in points]) / len(points) if len(points) > 1 else points[0].share


def _of_mean(points: Sequence[Point]) -> float:
    """The share by which the mean of some readings may differ from the next of the same thing."""
    return math.hypot(*(point.changes for point in points)) / len(points)


def _share(reading: ArrayReading, quantity: Repeated) -> Value | None:
    """What was read, as a share of what the curve gives; None where sun or heat is not known."""
    taken, curve = reading.taken, reading.expected
    if not curve.decidable or not taken.conditions.temperature_known:
        return None
    shares: dict[Repeated, Value] = {}
    if taken.true_voc is not None and curve.sun_is_told:
        shares["voc"] = taken.true_voc.expected / curve.voc.expected
    if taken.true_isc is not None and taken.conditions.sun_known:
        shares["isc"] = taken.true_isc.expected / curve.isc.expected
    power = reading.stands.power
    ready = taken.reading.stage == "bulk" and reading.stands.power_is_decidable
    if power is not None and ready and not power.held and power.given.number > 0.0:
        shares["power"] = power.shown / power.given
    share = shares.get(quantity)
    words = f"{WORDS[quantity]} of {reading.where} over its curve, by {reading.name}"
    return share.named(f"k({reading.name})", words, "%") if share is not None else None


def _changes(reading: ArrayReading, quantity: Repeated) -> float:
    """The share by which a reading may differ from the next of the same thing."""
    taken, curve = reading.taken, reading.expected
    corners = ((low, expected), (high, expected), (expected, low), (expected, high))
    if quantity == "power":
        power = reading.stands.power
        working = [curve.working(sun=sun, heat=heat) for sun, heat in corners]
        values = [each.given.number for each in working if each is not None]
        assert power is not None
        likely, read, still = power.given.number, power.read, 0.0
    else:
        of = curve.voc_in if quantity == "voc" else curve.isc_in
        values = [of(sun, heat).number for sun, heat in corners]
        likely = (curve.voc if quantity == "voc" else curve.isc).expected.number
        true = taken.true_voc if quantity == "voc" else taken.true_isc
        assert true is not None
        read = true
        # A clamp's drift is another each time, and no part of it stays.
        still = 0.0 if quantity == "voc" else taken.conditions.zero_drift.number
    if len(values) < len(corners) or not likely > 0.0 or read.expected.number == 0.0:
        return 1.0
    by_sun, by_heat = (abs(values[i + 1] - values[i]) / 2.0 / likely for i in (0, 2))
    by_meter = _half(read, still)
    drift = still / abs(read.expected.number)
    return math.hypot(REPEATED.value * by_sun, by_heat, REPEATED.value * by_meter, drift)


def _half(read: Band, still: float) -> float:
    """Half of the band of what was read, as a share, without what a clamp drifts."""
    half = (read.high.number - read.low.number) / 2.0 - still
    return max(half, 0.0) / abs(read.expected.number)
