"""What the curves give where something was read, in the sun and heat in which it was read.

A band of each quantity: what the curve gives between the corners of sun and cell temperature, with
the tolerance of labels.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from wattproof.circuit import Tree
from wattproof.kept import KeptEach, kept
from wattproof.physics import arrays as solver
from wattproof.physics.arrays import Solution
from wattproof.physics.curve import current_at
from wattproof.physics.tracking import TiedPoint, TrackedPoint
from wattproof.plan.readings import BRIGHTEST
from wattproof.record import record
from wattproof.study.array.strings import StringStudy
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.readings import (
    DIMMEST_SUN,
    ISC_OF_LABEL,
    TRACKER_EFFICIENCY,
    VOC_OF_LABEL,
)
from wattproof.study.curves.curves import CurveStudy
from wattproof.study.readings.conditions import STANDARD_SUN, Band, Corner, expected, high, low
from wattproof.study.readings.taken import Taken
from wattproof.working import Value, function, largest, once, tabled

DARK: Final = 10.0
"""Irradiance (W/m²) up to which no current of the modules is worth a name: night, and lamps (common
practice)."""


@record
class Working:
    """Where a controller should work: power (W), voltage (V) and current (A) of the array.

    held: what keeps it below the array's maximum, empty where nothing does. tied: True where the
    array stands at the voltage of its battery, which is the highest of it here.
    """

    given: Value
    voltage: Value
    current: Value
    held: str
    tied: bool = False


@dataclass(eq=False)
class Expected:
    """What the curves give of what was read.

    curves: None where a label belongs to no curve. beside: the sun (W/m²) by the short-circuit
    current of another that was read together with it; None without one.
    """

    taken: Taken
    curves: CurveStudy | None
    assume: Assumer
    beside: Band | None = None

    @property
    def decidable(self) -> bool:
        """False where the sun was too dim, or where no curve can be drawn somewhere in the band."""
        corners = ((low, high), (expected, expected), (high, low))
        return not self.too_dim and all(self.voc_in(*corner).number > 0.0 for corner in corners)

    @kept
    def voc(self) -> Band:
        """Open-circuit voltage that the curve gives (V): hot and dim, likeliest, cool and bright.

        Only where `decidable`.
        """
        share = self.taken.array.label_tolerance(VOC_OF_LABEL.value)
        source = VOC_OF_LABEL.source if share == VOC_OF_LABEL.value else "labels of the modules"
        off = tabled(share, "%", "tolVoc", "tolerance of Voc on labels", source)
        band = Band(
            self.voc_in(low, high) * (1.0 - off),
            self.voc_in(expected, expected),
            self.voc_in(high, low) * (1.0 + off),
        )
        return band.named(
            f"Voc({self.taken.where})", f"open-circuit voltage expected at {self.taken.where}", "V"
        )

    @kept
    def brightest_voc(self) -> Value | None:
        """Open-circuit voltage (V) that full sun does not exceed in the coolest cells that may be.

        None where no curve can be drawn there.
        """
        solved = self._solve(STANDARD_SUN.number, low, self.taken.tree)
        if solved is None:
            return None
        cells = [low(self.cells(string)) for string in self.taken.strings]
        drawn = self.curves.drawn_from if self.curves is not None else []
        volts = solver.voltage(solved, 0.0)
        value = function("open circuit of curve", volts, *drawn, STANDARD_SUN, *once(cells))
        share = self.taken.array.label_tolerance(VOC_OF_LABEL.value)
        off = tabled(share, "%", "tolVoc", "tolerance of Voc on labels", VOC_OF_LABEL.source)
        words = f"open-circuit voltage of {self.taken.where} in full sun, at most"
        return (value * (1.0 + off)).named(f"Vbright({self.taken.where})", words, "V")

    @kept
    def isc(self) -> Band:
        """Short-circuit current that the curve gives (A). Only where `decidable`."""
        off, most = self.isc_tolerance, self.isc_in(high, high)
        band = Band(
            self.isc_in(low, low) * (1.0 - off),
            self.isc_in(expected, expected),
            self._lit_behind(self._passed_by(most)) * (1.0 + off),
        )
        words = f"short-circuit current expected at {self.taken.where}"
        return band.named(f"Isc({self.taken.where})", words, "A")

    @kept
    def brightest_isc(self) -> Value:
        """Short-circuit current (A) that no steady sun exceeds, whatever it was."""
        bright = self.taken.array.isc("bright", self.taken.tree) * (1.0 + self.isc_tolerance)
        words = f"short-circuit current of {self.taken.where} in the brightest sun"
        return bright.named(f"Ibright({self.taken.where})", words, "A")

    @property
    def most_current(self) -> Value:
        """The most current (A) that the sun can give here: as much as shorted. If `decidable`."""
        return self.isc.high if self.taken.conditions.sun_known else self.brightest_isc

    @kept
    def most_power(self) -> Value | None:
        """The most power (W) that the sun can give here, in the coolest cells that may be.

        None where there is no curve.
        """
        taken = self.taken
        bright = taken.array.isc("bright", taken.tree) / taken.array.isc("standard", taken.tree)
        known = taken.conditions.sun_known
        return self._most_power_in(self.sun.high if known else bright * STANDARD_SUN)

    @kept
    def dimmest_power(self) -> Value | None:
        """More power (W) than any sun gives that is too dim to compare; None without a curve."""
        return self._most_power_in(self._dimmest_sun)

    def _most_power_in(self, light: Value) -> Value | None:
        """The most power (W) in some light (W/m²), in the coolest cells that may be."""
        solved = self._solve(light.number, low, self.taken.tree)
        if solved is None:
            return None
        watts = max((each.power for each in solver.maxima(solved)), default=0.0)
        inputs = (*self.inputs(expected, low), light)
        given = function("curve", watts, *inputs).named("Pcurve", "power by the curve", "W")
        most = given * (1.0 + self.isc_tolerance)
        where = self.taken.where
        words = f"most power that the sun can give at {where}"
        return self._lit_behind(most).named(f"Psun({where})", words, "W")

    @property
    def lit(self) -> Band:
        """The sun (W/m²) in which readings are compared."""
        dimmest = self._dimmest_sun
        brightest = tabled(BRIGHTEST, "W/m²", "Gmax", "brightest sun", "beside white cloud")
        return Band(dimmest, STANDARD_SUN, brightest)

    @property
    def _dimmest_sun(self) -> Value:
        least = DIMMEST_SUN
        return tabled(least.value, "W/m²", "Gdim", least.words, least.source)

    def point(
        self, charge: Value | None, sun: Corner, heat: Corner
    ) -> TrackedPoint | TiedPoint | None:
        """Where the controller works in a corner of sun and heat, its battery at a voltage (V).

        None for the battery of a sealed box.
        """
        whole = self._whole(sun, heat)
        if whole is None or self.curves is None:
            return None
        return self.curves.point_on(whole, charge)

    @kept
    def working_current(self) -> Band | None:
        """Current in operation (A) that the curve gives where the controller works.

        None where that is not known.
        """
        if self.curves is None or not self.curves.works:
            return None
        charge = self.curves.window.charge_voltage
        found = []
        for sun, heat in ((low, high), (expected, expected), (high, low)):
            point, own = self.point(charge, sun, heat), self.solved(sun, heat)
            if point is None or own is None:
                return None
            amps = max(current_at(own.curve, point.voltage), 0.0)
            inputs = (*self.inputs(sun, heat), *([charge] if charge is not None else []))
            found.append(_current_of_curve(amps, inputs))
        off = self.isc_tolerance
        band = Band(found[0] * (1.0 - off), found[1], found[2] * (1.0 + off))
        words = f"current in operation expected at {self.taken.where}"
        return band.named(f"I({self.taken.where})", words, "A")

    def output(self, charge: Value) -> Band | None:
        """Current (A) into a battery at a voltage (V) that the controller should give.

        What the controller itself loses is taken off. None where no curve is.
        """
        if not charge.number > 0.0:
            return None
        found = []
        for sun, heat, key in (
            (low, high, "least"),
            (expected, expected, "likely"),
            (high, low, "most"),
        ):
            point = self.point(charge, sun, heat)
            if point is None:
                return None
            inputs = (*self.inputs(sun, heat), charge)
            if isinstance(point, TiedPoint):
                found.append(_current_of_curve(point.current, inputs))
                continue
            share = tabled(
                TRACKER_EFFICIENCY.value[key],
                "%",
                "η",
                "efficiency of a charge controller",
                TRACKER_EFFICIENCY.source,
            )
            assert point.output_current is not None
            found.append(share * _current_of_curve(point.output_current, inputs))
        name = self.taken.array.controller.name
        return Band(*found).named(f"I({name})", f"charge current expected of {name}", "A")

    @property
    def each(self) -> Band | None:
        """Open-circuit voltage of each module of a string (V), where all are alike."""
        if self.taken.one_string is None or self.taken.module is None:
            return None
        words = f"open-circuit voltage expected of each module of {self.taken.where}"
        return self.voc.times(1.0 / self.taken.in_series).named("Voceach", words, "V")

    @property
    def too_dim(self) -> bool:
        """True where the sun was too weak for any comparison."""
        return self.sun.high.number < DIMMEST_SUN.value

    @property
    def isc_tolerance(self) -> Value:
        """Share that short-circuit current, and power with it, may lie off the label."""
        worst = max(
            ISC_OF_LABEL.value[str(m.sheet.build)] for s in self.taken.strings for m in s.modules
        )
        return tabled(worst, "%", "tolIsc", "tolerance of Isc on labels", ISC_OF_LABEL.source)

    def _passed_by(self, most: Value) -> Value:
        """A current (A), or what the stronger of unlike modules in series give past the weaker.

        They do where those have bypass diodes, which a label often does not tell.
        """
        taken = self.taken
        untold = any(
            m.sheet.bypass_diodes is None and len({each.isc.number for each in s.modules}) > 1
            for s in taken.strings
            for m in s.modules
        )
        if not untold:
            return most
        in_sun = taken.array.isc("standard", taken.tree) * (self.sun.high / STANDARD_SUN)
        return largest([most, in_sun])

    def _lit_behind(self, most: Value) -> Value:
        """A current or power (A or W) with what light on the back may add to it."""
        raised = [(s.with_rear_light(m), m.isc) for s in self.taken.strings for m in s.modules]
        ratios = [both / isc for both, isc in raised if both.number > isc.number]
        return most * largest(ratios) if ratios else most

    @kept
    def sun(self) -> Band:
        """Sun (W/m²) for voltage and power: as read, else as a short-circuit current tells it."""
        conditions = self.taken.conditions
        if conditions.sun_known:
            return conditions.sun
        return self.by_current or self.beside or conditions.sun

    @property
    def sun_is_told(self) -> bool:
        """True where anything tells the sun: a meter, the sky, or a short-circuit current."""
        told = (self.by_current, self.beside)
        return self.taken.conditions.sun_known or any(band is not None for band in told)

    @property
    def sky_untold(self) -> bool:
        """True where it was read under a clear sky and no latitude tells how bright that is."""
        return self._at_an_hour and not self.taken.conditions.sun_known

    @property
    def sun_by_sky(self) -> bool:
        """True where the sun is that of a clear sky, or of the night, by hour and latitude."""
        conditions = self.taken.conditions
        known = conditions.sun_known and not conditions.sun_measured
        return known and (self._at_an_hour or self._in_the_dark)

    @property
    def _in_the_dark(self) -> bool:
        """True where there is no sun and the reading tells the hour."""
        return self.taken.reading.time is not None and not self.sun.high.number > 0.0

    @property
    def _at_an_hour(self) -> bool:
        """True where the reading tells a sky and the hour."""
        reading = self.taken.reading
        return reading.sky is not None and reading.time is not None

    @property
    def no_sun(self) -> bool:
        """True where the sun is below the horizon, by date, hour and latitude."""
        return self.sun_by_sky and self._in_the_dark

    @property
    def in_the_dark(self) -> bool:
        """True there too, and where an irradiance was measured that is none to speak of."""
        told = self.taken.conditions
        return self.no_sun or (told.sun_measured and told.sun.high.number <= DARK)

    @kept
    def dimmest_isc(self) -> Value:
        """More short-circuit current (A) than any sun gives that is too dim to compare."""
        per_sun = self.taken.array.isc("standard", self.taken.tree) / STANDARD_SUN
        dim = self._dimmest_sun
        most = per_sun * dim * (1.0 + self.isc_tolerance)
        words = f"short-circuit current of {self.taken.where} in {dim}"
        return self._lit_behind(most).named("Idim", words, "A")

    @property
    def sun_words(self) -> str:
        """In what sun it was read, for a sentence."""
        if self.taken.conditions.sun_measured or not self.sun_is_told:
            return f"at {self.sun.expected}"
        by = "the clear sky" if self.taken.reading.sky is not None else "what was read with it"
        if not self.taken.conditions.sun_known:
            by = "the current shorted"
        return f"in {self.sun.low} to {self.sun.high} of sun, by {by}"

    @kept
    def by_current(self) -> Band | None:
        """Sun (W/m²) by the current shown; None where that is no sun in which to read."""
        if self.taken.true_isc is None:
            return None
        per_amp = STANDARD_SUN / self.taken.array.isc("standard", self.taken.tree)
        off, true = self.isc_tolerance, self.taken.true_isc
        band = Band(
            per_amp * true.low * (1.0 - off),
            per_amp * true.expected,
            per_amp * true.high * (1.0 + off),
        )
        if band.high.number < DIMMEST_SUN.value or band.low.number > BRIGHTEST:
            return None
        return band.named(
            f"G({self.taken.name})", f"sun by the current of {self.taken.name}", "W/m²"
        )

    def cells(self, string: StringStudy) -> Band:
        """Temperature of the cells of a string (°C)."""

        def cells() -> Band:
            return self.taken.conditions.cells(string, self.sun)

        return self._cells_by_string.of(string, cells)

    @kept
    def _cells_by_string(self) -> KeptEach[StringStudy, Band]:
        return KeptEach()

    def mean_cells(self, corner: Corner) -> float:
        """Temperature of the cells (°C), the mean over the strings."""
        values = [corner(self.cells(s)).number for s in self.taken.strings]
        return sum(values) / len(values)

    def solved(self, sun: Corner, heat: Corner) -> Solution | None:
        """What was read, solved in a corner of sun and heat; None where no curve is there."""

        def solve() -> Solution | None:
            return self._solve(max(sun(self.sun).number, 1.0), heat, self.taken.tree)

        return self._solutions.of((sun, heat), solve)

    @kept
    def _solutions(self) -> KeptEach[tuple[Corner, Corner], Solution | None]:
        return KeptEach()

    def _whole(self, sun: Corner, heat: Corner) -> Solution | None:
        """The whole array that what was read is part of, in a corner of sun and heat."""
        if self.taken.tree is self.taken.array.tree:
            return self.solved(sun, heat)
        return self._solve(max(sun(self.sun).number, 1.0), heat, self.taken.array.tree)

    def _solve(self, light: float, heat: Corner, tree: Tree) -> Solution | None:
        if self.curves is None:
            return None

        def cells(string: StringStudy) -> float:
            return heat(self.cells(string)).number

        try:
            return self.curves.in_light(tree, light, cells)
        except ValueError:  # coefficients that leave no curve, which have findings of their own
            return None

    def working(
        self, charge: Value | None = None, sun: Corner = expected, heat: Corner = expected
    ) -> Working | None:
        """What the controller takes of the array in a corner of sun and heat.

        charge: voltage of its battery (V); that of the end of charge where None. None where that is
        not known, or no curve can be drawn.
        """
        if self.curves is None:
            return None
        charge = charge if charge is not None else self.curves.window.charge_voltage
        known = charge is not None or self.curves.works
        point = self.point(charge, sun, heat) if known else None
        if point is None:
            return None
        inputs = (*self.inputs(sun, heat), *([charge] if charge is not None else []))
        held = "" if isinstance(point, TiedPoint) else point.limited_by.replace("none", "")
        at, where = f"at {self.taken.where}", self.taken.where
        given = function("curve", point.power, *inputs)
        voltage = function("curve", point.voltage, *inputs)
        current = function("curve", point.current, *inputs)
        return Working(
            given.named(f"P({where})", f"power expected {at}", "W"),
            voltage.named(f"U({where})", f"voltage expected {at}", "V"),
            current.named(f"I({where})", f"current expected {at}", "A"),
            held,
            isinstance(point, TiedPoint),
        )

    def voc_in(self, sun: Corner, heat: Corner) -> Value:
        solved = self.solved(sun, heat)
        volts = solver.voltage(solved, 0.0) if solved is not None else 0.0
        value = function("open circuit of curve", volts, *self.inputs(sun, heat))
        return value.named("Voc", f"open circuit of {self.taken.where}", "V")

    def isc_in(self, sun: Corner, heat: Corner) -> Value:
        solved = self.solved(sun, heat)
        amps = current_at(solved.curve, 0.0) if solved is not None else 0.0
        value = function("short circuit of curve", amps, *self.inputs(sun, heat))
        return value.named("Isc", f"short circuit of {self.taken.where}", "A")

    def inputs(self, sun: Corner, heat: Corner) -> tuple[Value, ...]:
        """What a curve is drawn from: labels, strings, wires, sun, cells."""
        cells = [heat(self.cells(string)) for string in self.taken.strings]
        drawn = self.curves.drawn_from if self.curves is not None else []
        return (*drawn, sun(self.sun), *once(cells))


def _current_of_curve(amps: float, inputs: Iterable[Value]) -> Value:
    return function("curve", amps, *inputs).named("Icurve", "current by the curve", "A")
