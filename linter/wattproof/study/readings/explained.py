"""What would explain a reading that is out of its band, and what follows from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from wattproof.kept import kept
from wattproof.physics.tracking import TrackedPoint
from wattproof.quantities import Quantity
from wattproof.record import record
from wattproof.study.array.strings import StringStudy
from wattproof.study.limits import exceeds
from wattproof.study.readings.conditions import (
    HOTTEST_BACK,
    STANDARD_SUN,
    Band,
    expected,
    high,
    low,
    overlap,
)
from wattproof.study.readings.expected import Expected
from wattproof.study.readings.slips import (
    LEAST_USED,
    MOSTLY_USED,
    are_exchanged,
    by_its_point,
    in_fahrenheit,
    in_operation,
    meant,
    mostly_used,
    sun_meant,
)
from wattproof.study.readings.taken import Taken
from wattproof.working import Value, declared, function, largest, smallest

MISREAD: Final = 10.0
"""K by which a thermometer on the back may have been wrong altogether."""
MISLABELLED: Final = 0.15
"""Share by which a label is ever off beyond its tolerance; more is another module, or several."""
LIKE: Final = 0.75
"""Share of what a fault takes from which a deficit is called by its name."""
SURELY: Final = 0.9
"""The same, from which it is called so with no other cause beside it."""
ABOUT: Final = 0.3
"""Share within which a current is taken for another, where sun and heat are roughly known."""
LEAST_WORKING: Final = 0.85
"""Share of its short-circuit current that an array still gives where its power is greatest."""
AT_THE_BATTERY: Final = 0.15
"""Share within which the array's voltage is that of a battery, wherever in its charge."""
USUAL_GROUPS: Final = (2, 3)
"""Groups of cells of a module whose label does not tell its bypass diodes; common practice."""
DUSK: Final = 0.1
"""Share of the current in the dimmest sun that is compared, under which it is dusk, or a slip."""
MOST_TIMES: Final = 4
"""How many times the modules of a plan are looked for in what was read."""


@record
class Cause:
    """What would explain a voltage: in words, and what would then be read (V).

    lost: the share of the voltage that it costs.
    """

    words: str
    band: Band
    lost: float

    def fits(self, shown: float, whole: float) -> bool:
        """True where the deficit of what was shown is near what the cause takes of the whole (V).

        A deficit of two thirds of it may as well be heat, and is not called by this name.
        """
        return 1.0 - shown / whole > LIKE * self.lost


@dataclass(eq=False)
class Explanation:
    """Faults, labels and layouts of which a reading could come."""

    taken: Taken
    expected: Expected

    @kept
    def causes(self) -> tuple[Cause, ...]:
        """What would explain the low voltage of one string, the likeliest first."""
        string, true = self.taken.one_string, self.taken.true_voc
        if string is None or true is None or self.expected.curves is None:
            return ()
        shown, whole = true.expected.number, self.expected.voc.expected.number
        fitting = [
            cause
            for cause in self._possible_causes(string)
            if overlap(true, cause.band) and cause.fits(shown, whole)
        ]
        nearest = sorted(fitting, key=lambda c: abs(c.band.expected.number - shown))
        return tuple({cause.words: cause for cause in reversed(nearest)}.values())[::-1]

    @property
    def is_left_open(self) -> bool:
        """True where less is missing than the likeliest cause takes, and more than heat may."""
        true = self.taken.true_voc
        if true is None or not self.causes or self.explaining_cells is not None:
            return False
        missing = 1.0 - true.expected.number / self.expected.voc.expected.number
        return missing < SURELY * self.causes[0].lost

    @kept
    def explaining_cells(self) -> Value | None:
        """Temperature of the cells (°C) that would explain the voltage; None where none can be.

        By the straight line between the two corners of the band.
        """
        if self.taken.true_voc is None:
            return None
        shown = self.taken.true_voc.expected.number
        cool, warm = self.expected.mean_cells(low), self.expected.mean_cells(high)
        at_cool = self.expected.voc_in(expected, low).number
        at_warm = self.expected.voc_in(expected, high).number
        if at_cool <= at_warm:
            return None
        cells = cool + (at_cool - shown) / (at_cool - at_warm) * (warm - cool)
        back = self.taken.conditions.back_known
        if not cells <= (min(warm + MISREAD, HOTTEST_BACK) if back else HOTTEST_BACK):
            return None
        words = f"cells that would explain {self.taken.name}"
        inputs = (self.taken.true_voc.expected, self.expected.voc.expected)
        return function("curve", cells, *inputs).named(f"Texplain({self.taken.name})", words, "°C")

    @property
    def meant_voc(self) -> Value | None:
        """What fits where the prefix of the open voltage was misread (V); None where nothing."""
        true = self.taken.true_voc
        return meant(true, self.expected.voc) if true is not None else None

    @property
    def meant_isc(self) -> Value | None:
        """The same of the short-circuit current (A)."""
        true = self.taken.true_isc
        return meant(true, self._bright(LEAST_USED)) if true is not None else None

    @property
    def isc_in_some_sun(self) -> Value | None:
        """What a prefix makes of a short-circuit current that no day gives (A); else None.

        Where nothing tells the sun: between what is compared and the brightest.
        """
        true = self.taken.true_isc
        if true is None or not self.is_less_than_a_day:
            return None
        brightest = self.expected.brightest_isc
        return meant(true, Band(self.expected.dimmest_isc, brightest, brightest))

    @property
    def is_less_than_a_day(self) -> bool:
        """True where so little was read shorted as dusk gives, and nothing tells the sun."""
        true = self.taken.true_isc
        if true is None or self.taken.conditions.sun_known:
            return False
        return true.expected.number < DUSK * self.expected.dimmest_isc.number

    def _bright(self, share: float) -> Band:
        """The short-circuit current (A) that is expected, and no less than a share of the most.

        So that a slip is looked for in the light, where a plane may be dark.
        """
        band = self.expected.isc
        return Band(largest([band.low, share * band.high]), band.expected, band.high)

    @property
    def voc_by_its_point(self) -> Value | None:
        """What fits where the decimal point of the open voltage stands elsewhere (V); else None."""
        true = self.taken.true_voc
        return by_its_point(true, self.expected.voc) if true is not None else None

    @property
    def isc_by_its_point(self) -> Value | None:
        """The same of the short-circuit current, where the sun is known (A)."""
        true = self.taken.true_isc
        if true is None or not self.taken.conditions.sun_known:
            return None
        return by_its_point(true, self._bright(MOSTLY_USED))

    @property
    def isc_slip(self) -> Value | None:
        """What either slip makes of the short-circuit current (A): of its prefix or its point."""
        return self.meant_isc or self.isc_by_its_point

    @property
    def current_by_its_point(self) -> Value | None:
        """The same of a current in operation that is more than the sun can give (A)."""
        true = self.taken.true_current
        if true is None:
            return None
        return by_its_point(true, mostly_used(self.expected.most_current))

    @property
    def power_by_its_point(self) -> Value | None:
        """The same of power as a display shows it (W)."""
        true, most = self.taken.true_power, self.expected.most_power
        if true is None or most is None or self.taken.reading.power is None:
            return None
        return by_its_point(true, mostly_used(most))

    @property
    def meant_current(self) -> Value | None:
        """The same of the current in operation (A)."""
        true = self.taken.true_current
        return meant(true, in_operation(self.expected.most_current)) if true is not None else None

    @property
    def meant_power(self) -> Value | None:
        """The same of power as a display shows it (W)."""
        true, most = self.taken.true_power, self.expected.most_power
        if true is None or most is None or self.taken.reading.power is None:
            return None
        return meant(true, in_operation(most))

    @property
    def meant_voltage(self) -> Value | None:
        """The same of the voltage in operation (V)."""
        shown = self.taken.voltage
        if shown is None:
            return None
        return meant(Band(shown, shown, shown), in_operation(self.expected.voc.high))

    @property
    def meant_sun(self) -> Value | None:
        """The same of an irradiance (W/m²) that is too dim to read in."""
        told = self.taken.conditions
        if not (told.sun_measured and self.expected.too_dim):
            return None
        by_current = self.expected.by_current or self._sun_at_work
        return sun_meant(told.sun, self.expected.lit, by_current)

    @property
    def _sun_at_work(self) -> Band | None:
        """Sun (W/m²) in which a current in operation is a good part of what is shorted."""
        true = self.taken.true_current
        if true is None or not true.expected.number > 0.0:
            return None
        per_amp = STANDARD_SUN / self.taken.array.isc("standard", self.taken.tree)
        likely = per_amp * true.expected
        return Band(LEAST_WORKING * likely, likely, likely / LEAST_WORKING / LEAST_WORKING)

    @property
    def meant_in_operation(self) -> Value | None:
        """What fits where one prefix of a power, current or voltage in operation was misread."""
        return self.meant_power or self.meant_current or self.meant_voltage

    @property
    def are_exchanged(self) -> bool:
        """True where open voltage and short-circuit current stand in each other's place."""
        return are_exchanged(self.taken, self.expected)

    @property
    def works_exchanged(self) -> bool:
        """True where voltage and current in operation stand in each other's place.

        The one is near the voltage of most power then, and the other what the sun can give.
        """
        curves, volts, amps = self.expected.curves, self.taken.voltage, self.taken.current
        charge = curves.window.charge_voltage if curves is not None else None
        if volts is None or amps is None or charge is None or self.is_held_at_the_battery:
            return False
        point = self.expected.point(charge, expected, expected)
        if point is None or not point.voltage > 0.0:
            return False
        given = in_operation(self.expected.most_current)
        near = abs(amps.number / point.voltage - 1.0) < AT_THE_BATTERY
        return near and given.low.number <= volts.number <= given.high.number

    @property
    def too_hot(self) -> tuple[tuple[str, Quantity, float], ...]:
        """Temperatures that nothing has: the key, as written, and what they would be from °F."""
        return tuple(in_fahrenheit(self.taken.reading))

    @property
    def is_held_at_the_battery(self) -> bool:
        """True where a tracker held the array at the voltage of its battery, and not above."""
        taken, curves = self.taken, self.expected.curves
        charge = curves.window.charge_voltage if curves is not None else None
        if charge is None or taken.voltage is None or taken.array.controller.kind == "pwm":
            return False
        return abs(taken.voltage.number / charge.number - 1.0) < AT_THE_BATTERY

    @kept
    def more_in_series(self) -> int | None:
        """How many modules in series would give the voltage; None where no number over the plan's.

        The fewest, where a wide band leaves several.
        """
        if self.taken.true_voc is None:
            return None
        return _more(self.taken.true_voc, self.expected.voc, self.taken.in_series)

    @property
    def more_at_work(self) -> int | None:
        """The fewest modules in series, over the plan's, that a voltage in operation takes.

        None where none was read that takes more, or no number does.
        """
        volts, planned = self.taken.voltage, self.taken.in_series
        if volts is None or self.works_exchanged or self.meant_voltage is not None:
            return None
        return _fewest(volts, self.expected.voc.high, planned)

    @property
    def more_in_full_sun(self) -> int | None:
        """The same of an open voltage in sun that is too dim to compare: as many in full sun."""
        true, most, planned = self.taken.true_voc, self.expected.brightest_voc, self.taken.in_series
        if true is None or most is None:
            return None
        return _fewest(true.low, most, planned)

    def cold_of(self, count: int) -> Value:
        """Open-circuit voltage of the array on the coldest morning (V), with so many in series."""
        cold = self.taken.array.voc("coldest") * (count / self.taken.in_series)
        words = f"cold open-circuit voltage of the {self.taken.array.name} with {count} in series"
        return cold.named(f"Vcold({count}s)", words, "V")

    @kept
    def over_limit_now(self) -> Value | None:
        """What was read, open or in operation, that the controller does not stand (V).

        None where nothing is. It needs no sun and no heat to be told.
        """
        shown = (self.taken.voc, self.taken.voltage)
        return next((v for v in shown if v is not None and exceeds(v, self.input_limit)), None)

    @kept
    def fewer_in_series(self) -> int | None:
        """How many of all the modules in series, fewer than planned, would give the voltage.

        None where no number does into which they go, and where they are not alike.
        """
        taken = self.taken
        if taken.true_voc is None or taken.module is None:
            return None
        missing = _fewer(taken.true_voc, self.expected.voc, taken.in_series)
        count = sum(len(string.modules) for string in taken.strings)
        if missing is None or count % (taken.in_series - missing):
            return None
        return taken.in_series - missing

    @property
    def dark_strings(self) -> int | None:
        """How many strings that give nothing would explain a low current; None where none would."""
        if self.taken.true_isc is None:
            return None
        return _fewer(self.taken.true_isc, self.expected.isc, len(self.taken.strings))

    @property
    def dark_in_operation(self) -> int | None:
        """The same of strings side by side and the current in operation at the solar input."""
        true, curve = self.taken.true_current, self.expected.working_current
        count = len(self.taken.strings)
        if true is None or curve is None or self.taken.in_parallel != count:
            return None
        return _fewer(true, curve, count)

    def dark_by_power(self, given: Value, least: Value) -> int | None:
        """The same by power at the solar input (W), of which so much is given, and the least."""
        true, count = self.taken.true_power, len(self.taken.strings)
        if true is None or self.taken.in_parallel != count:
            return None
        return _fewer(true, Band(least, given, given), count)

    def dark_by_charge(self, charge: Band, given: Band) -> int | None:
        """The same by a current into the battery (A), where so much is given."""
        count = len(self.taken.strings)
        return _fewer(charge, given, count) if self.taken.in_parallel == count else None

    @property
    def as_side_by_side(self) -> int | None:
        """How many modules, planned in series, stand side by side by what was read in operation.

        The voltage is so many times less than that of most power then, and the current more.
        """
        curves, volts, amps = self.expected.curves, self.taken.voltage, self.taken.current
        charge = curves.window.charge_voltage if curves is not None else None
        if volts is None or amps is None or charge is None:
            return None
        point = self.expected.point(charge, expected, expected)
        if point is None or not point.current > 0.0:
            return None
        for count in range(2, self.taken.in_series + 1):
            near = abs(count * volts.number / point.voltage - 1.0) < AT_THE_BATTERY
            many = abs(amps.number / count / point.current - 1.0) < AT_THE_BATTERY
            if near and many and self.taken.in_series % count == 0:
                return count
        return None

    @kept
    def more_in_parallel(self) -> int | None:
        """The same of strings side by side and the current, where the sun is known."""
        if self.taken.true_isc is None or not self.taken.conditions.sun_known:
            return None
        return _more(
            self.taken.true_isc, self.expected.isc, self.taken.array.in_parallel(self.taken.tree)
        )

    @property
    def times_over(self) -> int | None:
        """How many times what was read here, side by side, would give the current in operation.

        None where the sun is not known, or no number does.
        """
        true = self.taken.true_current
        if true is None or not self.taken.conditions.sun_known:
            return None
        one = self.expected.isc
        working = Band(LEAST_WORKING * one.low, one.expected, one.high)
        return _more(true, working, 1)

    @property
    def is_above_the_battery(self) -> bool:
        """True where a voltage was read with it that no battery of the controller has."""
        curves, volts = self.expected.curves, self.taken.voltage
        charge = curves.window.charge_voltage if curves is not None else None
        return (
            charge is not None
            and volts is not None
            and exceeds(volts, charge * (1.0 + AT_THE_BATTERY))
        )

    @property
    def sun_that_gives(self) -> Value | None:
        """The sun (W/m²) that would give what flows, where one was measured and steady sun can.

        None, too, where the voltage beside it is not that of the array.
        """
        taken, true = self.taken, self.taken.true_current
        if true is None or not taken.conditions.sun_measured or not self.is_above_the_battery:
            return None
        if exceeds(true.expected, self.expected.brightest_isc):
            return None
        whole = taken.array.isc("standard", taken.tree)
        words = f"sun that would give what {taken.name} read"
        return (STANDARD_SUN * (true.expected / whole)).named("Ggives", words, "W/m²")

    @property
    def is_as_of_the_battery(self) -> bool:
        """True where the current is what the controller would give its battery, and not take."""
        true, curves = self.taken.true_current, self.expected.curves
        charge = curves.window.charge_voltage if curves is not None else None
        if true is None or charge is None:
            return False
        point = self.expected.point(charge, expected, expected)
        if not isinstance(point, TrackedPoint) or not point.output_current:
            return False
        return abs(true.expected.number / point.output_current - 1.0) < ABOUT

    @kept
    def cold(self) -> Band | None:
        """Open-circuit voltage of the array on the coldest morning (V), by the reading.

        The plan's cold voltage, times what the reading is of what the curve gives. None without a
        positive reading.
        """
        true = self.taken.true_voc
        if true is None:
            return None
        plan = self.taken.array.voc("coldest")
        words = f"cold open-circuit voltage of the {self.taken.array.name} by {self.taken.name}"
        band = Band(
            plan * (true.low / self.expected.voc_in(high, low)),
            plan * (true.expected / self._by_label),
            plan * (true.high / self.expected.voc_in(low, high)),
        )
        return band.named(f"Vcold({self.taken.name})", words, "V")

    @property
    def _by_label(self) -> Value:
        """Open-circuit voltage (V) by the label in the likeliest heat.

        Where that was not measured at the modules, of the heat that may have been the one that
        explains most of what was read over it.
        """
        likely, true = self.expected.voc.expected, self.taken.true_voc
        if true is None or self.taken.conditions.back_known or not exceeds(true.expected, likely):
            return likely
        return smallest([self.expected.voc_in(high, low), true.expected])

    @property
    def cold_fails(self) -> bool:
        """True where the cold voltage by the reading is over the input, at the kindest."""
        return self.cold is not None and exceeds(self.cold.low, self.input_limit)

    @property
    def input_limit(self) -> Value:
        """Highest voltage that the controller stands (V)."""
        controller = self.taken.array.controller
        words = f"highest input voltage of {controller.name}"
        return declared(controller.input_limit, "Umax", words)

    @kept
    def label_voc(self) -> Value | None:
        """Open-circuit voltage that the label should say, by the reading (V).

        None where no label is so wrong: then something else is joined than the plan says.
        """
        if self.taken.module is None or self.taken.true_voc is None:
            return None
        if exceeds(self.taken.true_voc.expected, (1.0 + MISLABELLED) * self.expected.voc.high):
            return None
        value = self.taken.module.voc * (self.taken.true_voc.expected / self._by_label)
        words = f"open-circuit voltage of {self.taken.module.name} by {self.taken.name}"
        return value.named(f"Vlabel({self.taken.name})", words, "V")

    @kept
    def label_isc(self) -> Value | None:
        """Short-circuit current that the label should say, by the reading (A); likewise."""
        if (
            self.taken.module is None
            or self.taken.true_isc is None
            or not self.taken.conditions.sun_known
        ):
            return None
        if exceeds(self.taken.true_isc.expected, (1.0 + MISLABELLED) * self.expected.isc.high):
            return None
        value = self.taken.module.isc * (self.taken.true_isc.expected / self.expected.isc.expected)
        words = f"short-circuit current of {self.taken.module.name} by {self.taken.name}"
        return value.named(f"Ilabel({self.taken.name})", words, "A")

    def _possible_causes(self, string: StringStudy) -> Iterator[Cause]:
        """What can be wrong in a string, by the share of its voltage that it costs."""
        assert self.expected.curves is not None
        count, told = len(string.modules), self.expected.curves.groups_of(string)
        untold = any(module.sheet.bypass_diodes is None for module in string.modules)
        for groups in {told, *(each * count for each in USUAL_GROUPS if untold)}:
            if groups > count:
                words = "one group of cells shorted, by a failed bypass diode"
                yield self._cause(words, 1 / groups)
            if groups > 2 * count:
                words = "two groups of cells shorted, by failed bypass diodes"
                yield self._cause(words, 2 / groups)
        if count > 1:
            alone = ", or one read alone" if count == 2 else ""
            yield self._cause(f"one module missing or shorted{alone}", 1 / count)
        if count > 2:
            yield self._cause("one module connected the wrong way round", 2 / count)
            alone = ", or one read alone" if count == 3 else ""
            yield self._cause(f"two modules missing or shorted{alone}", 2 / count)
        if count > 3:
            yield self._cause("one module of it read alone", 1 - 1 / count)

    def _cause(self, words: str, lost: float) -> Cause:
        band = self.expected.voc.times(1.0 - lost)
        return Cause(words, band.named("Voc", f"with {words}", "V"), lost)


def _fewer(true: Band, curve: Band, count: int) -> int | None:
    """How many of a count give nothing, the likeliest where several would fit; None where none."""
    shares = {n: curve.times(1.0 - n / count) for n in range(1, count)}
    shown = true.expected.number
    fitting = [n for n, band in shares.items() if overlap(true, band)]
    return min(fitting, key=lambda n: abs(shares[n].expected.number - shown), default=None)


def _more(true: Band, curve: Band, count: int) -> int | None:
    """The fewest, over a count, of which so many give what was read; None where none fits."""
    return next((n for n in _over(count) if overlap(true, curve.times(n / count))), None)


def _fewest(volts: Value, most: Value, count: int) -> int | None:
    """The fewest, over a count that has so much at most (V), of which so many may have more."""
    return next((n for n in _over(count) if not exceeds(volts, n * (most / count))), None)


def _over(count: int) -> range:
    """The numbers of modules over a planned one that are looked for."""
    return range(count + 1, MOST_TIMES * count + 1)
