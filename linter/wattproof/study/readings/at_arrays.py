"""What a meter showed of an array, beside what its curves give in the same sun and heat.

Each quantity is compared as two bands: what the meter's value may truly be, and what the curve
gives between the corners of sun and cell temperature, with the tolerance of labels.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

from wattproof.circuit import Leaf, Parallel, Series, Source, Tree
from wattproof.physics import arrays as solver
from wattproof.physics.arrays import Solution
from wattproof.physics.curve import current_at
from wattproof.physics.modules import STANDARD_IRRADIANCE
from wattproof.physics.tracking import TiedPoint
from wattproof.plan.array import Combiner, String
from wattproof.plan.power import Controller
from wattproof.plan.readings import BRIGHTEST, Reading
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.strings import ModuleStudy, StringStudy
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.modules import NO_ISC_COEFFICIENT, NO_VOC_COEFFICIENT
from wattproof.study.assumptions.readings import (
    DIMMEST_SUN,
    ISC_OF_LABEL,
    VOC_OF_LABEL,
)
from wattproof.study.curves.curves import CurveStudy
from wattproof.study.limits import exceeds
from wattproof.study.readings.conditions import (
    NOTHING,
    Band,
    Conditions,
    Corner,
    expected,
    high,
    low,
)
from wattproof.working import Value, declared, function, largest, tabled

DEAD: Final = 0.1
"""Share of what is expected, under which nothing arrives at all."""
HOTTEST_CELLS: Final = 95.0
"""°C, above which no cells are in the sun; a deficit is then not heat."""
MISREAD: Final = 10.0
"""K by which a thermometer on the back may have been wrong altogether."""
MISLABELLED: Final = 0.15
"""Share by which a label is ever off beyond its tolerance; more is another module, or several."""
MOST_TIMES: Final = 4
"""How many times the modules of a plan are looked for in what was read."""


@record
class Cause:
    """What would explain a voltage: in words, and what would then be read (V)."""

    words: str
    band: Band


@record
class Power:
    """Power in operation (W).

    shown: voltage times current by the meter. most: the same at most. given: what the controller
    should take of the array. voltage: where it should hold it (V). held: what keeps it below the
    array's maximum, empty where nothing does.
    """

    shown: Value
    most: Value
    given: Value
    voltage: Value
    held: str


@dataclass(eq=False)
class ArrayReading:
    """A reading at a string, a joint, or the solar input of a controller.

    part: the string or joint that was read, None at the solar input. curves: None where a label
    belongs to no curve.
    """

    reading: Reading
    part: String | Combiner | None
    array: ArrayStudy
    curves: CurveStudy | None
    conditions: Conditions
    assume: Assumer

    @property
    def name(self) -> str:
        """The reading's name."""
        return str(self.reading.name)

    @property
    def where(self) -> str:
        """The terminal that was read, as the plan writes it."""
        return str(self.reading.at_terminal)

    @property
    def subjects(self) -> tuple[Reading, String | Combiner | Controller]:
        """The reading and what it was taken at."""
        return self.reading, self.part or self.array.controller

    @cached_property
    def tree(self) -> Tree:
        """The part of the array that was read; a string as it is by itself, unplugged."""
        if isinstance(self.part, String):
            sources = {s for s in self.array.strings if s.string is self.part}
            found = _only(self.array.tree, sources)
            assert found is not None
            return found
        if self.part is not None:
            joints = [j.tree for j in self.array.joints if j.combiner is self.part]
            return joints[-1] if joints else self.array.tree
        return self.array.tree

    @cached_property
    def strings(self) -> tuple[StringStudy, ...]:
        """The strings in it."""
        return self.array.strings_of(self.tree)

    @property
    def one_string(self) -> StringStudy | None:
        """The string, where the reading is of one alone."""
        return self.strings[0] if len(self.strings) == 1 else None

    @property
    def at_string(self) -> bool:
        """True where a string of the plan was read."""
        return isinstance(self.part, String)

    @property
    def at_input(self) -> bool:
        """True where the solar input of the controller was read."""
        return self.part is None

    @cached_property
    def voc(self) -> Value | None:
        """Open-circuit voltage shown (V)."""
        written = self.reading.voc
        words = f"open-circuit voltage read at {self.where}"
        return declared(written, f"Voc({self.name})", words) if written is not None else None

    @cached_property
    def isc(self) -> Value | None:
        """Short-circuit current shown (A)."""
        written = self.reading.isc
        words = f"short-circuit current read at {self.where}"
        return declared(written, f"Isc({self.name})", words) if written is not None else None

    @cached_property
    def voltage(self) -> Value | None:
        """Voltage in operation (V)."""
        written = self.reading.voltage
        words = f"voltage read at {self.where}"
        return declared(written, f"U({self.name})", words) if written is not None else None

    @cached_property
    def current(self) -> Value | None:
        """Current in operation (A)."""
        written = self.reading.current
        words = f"current read at {self.where}"
        return declared(written, f"I({self.name})", words) if written is not None else None

    @cached_property
    def true_voc(self) -> Band | None:
        """What the open-circuit voltage shown may truly be (V); None where it is reversed."""
        written = self.reading.voc
        if self.voc is None or written is None or self.voc in self.reversed_voltages:
            return None
        return self.conditions.volts(self.voc, written)

    @cached_property
    def true_isc(self) -> Band | None:
        """What the short-circuit current shown may truly be (A); None where it is reversed."""
        written = self.reading.isc
        if self.isc is None or written is None or self.isc in self.reversed_currents:
            return None
        return self.conditions.amps(self.isc, written)

    @property
    def decidable(self) -> bool:
        """False where the sun was too dim, or where no curve can be drawn somewhere in the band."""
        corners = ((low, high), (expected, expected), (high, low))
        return not self.too_dim and all(self._voc(*corner).number > 0.0 for corner in corners)

    @cached_property
    def expected_voc(self) -> Band:
        """Open-circuit voltage that the curve gives (V): hot and dim, likeliest, cool and bright.

        Only where `decidable`.
        """
        off = tabled(
            VOC_OF_LABEL.value, "%", "tolVoc", "tolerance of Voc on labels", VOC_OF_LABEL.source
        )
        band = Band(
            self._voc(low, high) * (1.0 - off),
            self._voc(expected, expected),
            self._voc(high, low) * (1.0 + off),
        )
        return band.named(
            f"Voc({self.where})", f"open-circuit voltage expected at {self.where}", "V"
        )

    @cached_property
    def expected_isc(self) -> Band:
        """Short-circuit current that the curve gives (A). Only where `decidable`."""
        off, most = self._isc_tolerance, self._isc(high, high)
        rear = self._rear_light
        band = Band(
            self._isc(low, low) * (1.0 - off),
            self._isc(expected, expected),
            (most if rear is None else most * rear) * (1.0 + off),
        )
        words = f"short-circuit current expected at {self.where}"
        return band.named(f"Isc({self.where})", words, "A")

    @cached_property
    def brightest_isc(self) -> Value:
        """Short-circuit current (A) that no steady sun exceeds, whatever it was."""
        bright = self.array.isc("bright", self.tree) * (1.0 + self._isc_tolerance)
        words = f"short-circuit current of {self.where} in the brightest sun"
        return bright.named(f"Ibright({self.where})", words, "A")

    @property
    def expected_each(self) -> Band | None:
        """Open-circuit voltage of each module of a string (V), where all are alike."""
        if self.one_string is None or self.module is None:
            return None
        words = f"open-circuit voltage expected of each module of {self.where}"
        return self.expected_voc.times(1.0 / self.in_series).named("Voceach", words, "V")

    @property
    def reversed_voltages(self) -> tuple[Value, ...]:
        """What was read with a minus that is more than nothing (V)."""
        shown = (self.voc, self.voltage)
        return tuple(v for v in shown if v is not None and v.number < -NOTHING)

    @property
    def reversed_currents(self) -> tuple[Value, ...]:
        """The same of currents (A), beyond what a clamp drifts."""
        drift = self.conditions.zero_drift.number
        shown = (self.isc, self.current)
        return tuple(v for v in shown if v is not None and v.number < -drift)

    @property
    def is_reversed(self) -> bool:
        """True where a sign shows that poles or probes were swapped."""
        return bool(self.reversed_voltages or self.reversed_currents)

    @property
    def too_dim(self) -> bool:
        """True where the sun was too weak for any comparison."""
        return self.sun.high.number < DIMMEST_SUN.value

    @property
    def is_dead(self) -> bool:
        """True where hardly any voltage arrives."""
        return self.voc is not None and self.voc.number < DEAD * self.expected_voc.low.number

    @property
    def is_unlit(self) -> bool:
        """True where hardly any current arrives."""
        return self.isc is not None and self.isc.number < DEAD * self.expected_isc.low.number

    @property
    def voc_is_low(self) -> bool:
        """True where the most that the voltage may be lies under the least that is expected."""
        return self._compared(self.true_voc) and _is_low(self._voc_read, self.expected_voc)

    @property
    def voc_is_high(self) -> bool:
        """True where the least that the voltage may be lies over the most that is expected."""
        return self._compared(self.true_voc) and _is_high(self._voc_read, self.expected_voc)

    @property
    def works_over_open(self) -> bool:
        """True where it works at more than the most that nothing connected could give."""
        written, shown = self.reading.voltage, self.voltage
        if written is None or shown is None or shown in self.reversed_voltages:
            return False
        return exceeds(self.conditions.volts(shown, written).low, self.expected_voc.high)

    @property
    def isc_is_low(self) -> bool:
        """The same of the current, where the sun is known."""
        known = self.conditions.sun_known and self._compared(self.true_isc)
        return known and _is_low(self._isc_read, self.expected_isc)

    @property
    def isc_is_high(self) -> bool:
        """The same of the current; in unknown sun, over what the brightest gives."""
        if not self._compared(self.true_isc):
            return False
        if self.conditions.sun_known:
            return _is_high(self._isc_read, self.expected_isc)
        return exceeds(self._isc_read.low, self.brightest_isc)

    @cached_property
    def in_series(self) -> int:
        """Modules in series in what was read."""
        return self.array.in_series(self.tree)

    @cached_property
    def causes(self) -> tuple[Cause, ...]:
        """What would explain the low voltage of one string, the likeliest first."""
        string, true = self.one_string, self.true_voc
        if string is None or true is None or self.curves is None:
            return ()
        fitting = [cause for cause in self._possible_causes(string) if _overlap(true, cause.band)]
        shown = true.expected.number
        return tuple(sorted(fitting, key=lambda c: abs(c.band.expected.number - shown)))

    @cached_property
    def explaining_cells(self) -> Value | None:
        """Temperature of the cells (°C) that would explain the voltage; None where none can be.

        By the straight line between the two corners of the band.
        """
        if self.true_voc is None:
            return None
        shown = self.true_voc.expected.number
        cool, warm = self._cells(low), self._cells(high)
        at_cool = self._voc(expected, low).number
        at_warm = self._voc(expected, high).number
        if at_cool <= at_warm:
            return None
        cells = cool + (at_cool - shown) / (at_cool - at_warm) * (warm - cool)
        back = self.reading.back_temperature is not None
        if not cells <= (min(warm + MISREAD, HOTTEST_CELLS) if back else HOTTEST_CELLS):
            return None
        words = f"cells that would explain {self.name}"
        inputs = (self.true_voc.expected, self.expected_voc.expected)
        return function("curve", cells, *inputs).named(f"Texplain({self.name})", words, "°C")

    @cached_property
    def more_in_series(self) -> int | None:
        """How many modules in series would give the voltage; None where no number over the plan's.

        The fewest, where a wide band leaves several.
        """
        if self.true_voc is None:
            return None
        return _more(self.true_voc, self.expected_voc, self.in_series)

    @property
    def dark_strings(self) -> int | None:
        """How many strings that give nothing would explain a low current; None where none would."""
        if self.true_isc is None:
            return None
        return _fewer(self.true_isc, self.expected_isc, len(self.strings))

    @cached_property
    def more_in_parallel(self) -> int | None:
        """The same of strings side by side and the current, where the sun is known."""
        if self.true_isc is None or not self.conditions.sun_known:
            return None
        return _more(self.true_isc, self.expected_isc, self.array.in_parallel(self.tree))

    @cached_property
    def cold(self) -> Band | None:
        """Open-circuit voltage of the array on the coldest morning (V), by the reading.

        The plan's cold voltage, times what the reading is of what the curve gives. None without a
        positive reading.
        """
        true = self.true_voc
        if true is None:
            return None
        plan, curve = self.array.voc("coldest"), self.expected_voc
        words = f"cold open-circuit voltage of the {self.array.name} by {self.name}"
        band = Band(
            plan * (true.low / self._voc(high, low)),
            plan * (true.expected / curve.expected),
            plan * (true.high / self._voc(low, high)),
        )
        return band.named(f"Vcold({self.name})", words, "V")

    @property
    def cold_fails(self) -> bool:
        """True where the cold voltage by the reading is over the input, at the kindest."""
        return self.cold is not None and exceeds(self.cold.low, self.input_limit)

    @property
    def power_is_decidable(self) -> bool:
        """True where sun and heat are known, and the battery is not said to take less."""
        return self._power_matters and not self._power_unknown

    @property
    def power_is_open(self) -> bool:
        """True where power would tell something if sun and heat were known."""
        return self._power_matters and self._power_unknown

    @property
    def _power_matters(self) -> bool:
        return self.reading.stage not in ("absorption", "float") and not self.too_dim

    @property
    def _power_unknown(self) -> bool:
        return not (self.conditions.sun_known and self.conditions.temperature_known)

    def beside_best(self, power: Power, away: float) -> Literal["high", "low", "right"]:
        """Where the voltage lies beside that of most power, by more than a share."""
        assert self.voltage is not None
        ratio = self.voltage.number / power.voltage.number
        return "high" if ratio > 1.0 + away else "low" if ratio < 1.0 - away else "right"

    @property
    def input_limit(self) -> Value:
        """Highest voltage that the controller stands (V)."""
        controller = self.array.controller
        words = f"highest input voltage of {controller.name}"
        return declared(controller.input_limit, "Umax", words)

    @property
    def module(self) -> ModuleStudy | None:
        """The module, where all that was read are alike."""
        modules = {m.name: m for s in self.strings for m in s.modules}
        return next(iter(modules.values())) if len(modules) == 1 else None

    @cached_property
    def label_voc(self) -> Value | None:
        """Open-circuit voltage that the label should say, by the reading (V).

        None where no label is so wrong: then something else is joined than the plan says.
        """
        if self.module is None or self.true_voc is None:
            return None
        if exceeds(self.true_voc.expected, (1.0 + MISLABELLED) * self.expected_voc.high):
            return None
        value = self.module.voc * (self.true_voc.expected / self.expected_voc.expected)
        words = f"open-circuit voltage of {self.module.name} by {self.name}"
        return value.named(f"Vlabel({self.name})", words, "V")

    @cached_property
    def label_isc(self) -> Value | None:
        """Short-circuit current that the label should say, by the reading (A); likewise."""
        if self.module is None or self.true_isc is None or not self.conditions.sun_known:
            return None
        if exceeds(self.true_isc.expected, (1.0 + MISLABELLED) * self.expected_isc.high):
            return None
        value = self.module.isc * (self.true_isc.expected / self.expected_isc.expected)
        words = f"short-circuit current of {self.module.name} by {self.name}"
        return value.named(f"Ilabel({self.name})", words, "A")

    @cached_property
    def power(self) -> Power | None:
        """Power at the solar input; None where not both values were read, or nothing was given."""
        volts, amps = self.reading.voltage, self.reading.current
        if self.voltage is None or self.current is None or self.curves is None:
            return None
        assert volts is not None
        assert amps is not None
        if not self.at_input or self.is_reversed:
            return None
        # A pulse-width controller holds the array at its battery's voltage, which was read.
        tied = self.array.controller.kind == "pwm" and self.voltage.number > NOTHING
        charge = self.voltage if tied else self.curves.window.charge_voltage
        solved = self._solved(expected, expected)
        if solved is None or charge is None:
            return None
        point = self.curves.point_on(solved, charge.number)
        inputs = (*self._inputs(expected, expected), charge)
        given = function("curve", point.power, *inputs)
        held = "" if isinstance(point, TiedPoint) else point.limited_by.replace("none", "")
        name, at = self.name, f"at {self.where}"
        shown = (self.voltage * self.current).named(f"P({name})", f"power read {at}", "W")
        conditions = self.conditions
        most = conditions.volts(self.voltage, volts).high * conditions.amps(self.current, amps).high
        voltage = function("curve", point.voltage, *inputs)
        return Power(
            shown,
            most.named(f"Pmax({name})", f"power read {at}, at most", "W"),
            given.named(f"P({self.where})", f"power expected {at}", "W"),
            voltage.named(f"U({self.where})", f"voltage expected {at}", "V"),
            held,
        )

    def _compared(self, true: Band | None) -> bool:
        return true is not None and self.decidable

    @property
    def _voc_read(self) -> Band:
        assert self.true_voc is not None
        return self.true_voc

    @property
    def _isc_read(self) -> Band:
        assert self.true_isc is not None
        return self.true_isc

    @property
    def _isc_tolerance(self) -> Value:
        worst = max(ISC_OF_LABEL.value[str(m.sheet.build)] for s in self.strings for m in s.modules)
        return tabled(worst, "%", "tolIsc", "tolerance of Isc on labels", ISC_OF_LABEL.source)

    @property
    def _rear_light(self) -> Value | None:
        """By how much light on the back may raise the current; None where none counts."""
        raised = [(s.with_rear_light(m), m.isc) for s in self.strings for m in s.modules]
        ratios = [both / isc for both, isc in raised if both.number > isc.number]
        return largest(ratios) if ratios else None

    @cached_property
    def sun(self) -> Band:
        """Sun (W/m²) for a voltage: as read, else as the cells' own current tells it."""
        if self.conditions.sun_known or self._by_current is None:
            return self.conditions.sun
        return self._by_current

    @cached_property
    def _by_current(self) -> Band | None:
        """Sun (W/m²) by the current shown; None where that is no sun in which to read."""
        if self.true_isc is None:
            return None
        per_amp = STANDARD_IRRADIANCE / self.array.isc("standard", self.tree)
        off, true = self._isc_tolerance, self.true_isc
        band = Band(
            per_amp * true.low * (1.0 - off),
            per_amp * true.expected,
            per_amp * true.high * (1.0 + off),
        )
        if band.high.number < DIMMEST_SUN.value or band.low.number > BRIGHTEST:
            return None
        return band.named(f"G({self.name})", f"sun by the current of {self.name}", "W/m²")

    def cells(self, string: StringStudy) -> Band:
        """Temperature of the cells of a string (°C)."""
        if string not in self._cells_by_string:
            self._cells_by_string[string] = self.conditions.cells(string, self.sun)
        return self._cells_by_string[string]

    @cached_property
    def _cells_by_string(self) -> dict[StringStudy, Band]:
        return {}

    def _cells(self, corner: Corner) -> float:
        """Temperature of the cells (°C), the mean over the strings."""
        values = [corner(self.cells(s)).number for s in self.strings]
        return sum(values) / len(values)

    def _solved(self, sun: Corner, heat: Corner) -> Solution | None:
        """What was read, solved in a corner of sun and heat; None where no curve is there."""
        key = (sun, heat)
        if key not in self._solutions:
            self._solutions[key] = self._solve(sun, heat)
        return self._solutions[key]

    @cached_property
    def _solutions(self) -> dict[tuple[Corner, Corner], Solution | None]:
        return {}

    def _solve(self, sun: Corner, heat: Corner) -> Solution | None:
        if self.curves is None:
            return None
        light = max(sun(self.sun).number, 1.0)

        def cells(string: StringStudy) -> float:
            return heat(self.cells(string)).number

        try:
            return self.curves.in_light(self.tree, light, cells)
        except ValueError:  # coefficients that leave no curve, which have findings of their own
            return None

    def _voc(self, sun: Corner, heat: Corner) -> Value:
        solved = self._solved(sun, heat)
        volts = solver.voltage(solved, 0.0) if solved is not None else 0.0
        value = function("open circuit of curve", volts, *self._inputs(sun, heat))
        return value.named("Voc", f"open circuit of {self.where}", "V")

    def _isc(self, sun: Corner, heat: Corner) -> Value:
        solved = self._solved(sun, heat)
        amps = current_at(solved.curve, 0.0) if solved is not None else 0.0
        value = function("short circuit of curve", amps, *self._inputs(sun, heat))
        return value.named("Isc", f"short circuit of {self.where}", "A")

    def _inputs(self, sun: Corner, heat: Corner) -> tuple[Value, ...]:
        """What a curve is drawn from: labels, coefficients, sun, cells."""
        modules = {m.name: m for s in self.strings for m in s.modules}.values()
        found = [v for m in modules for v in (m.voc, m.isc, m.vmp, m.imp, *self._coefficients(m))]
        found += {s.count.number: s.count for s in self.strings}.values()
        found.append(sun(self.sun))
        found += {v.number: v for v in (heat(self.cells(s)) for s in self.strings)}.values()
        return tuple(found)

    def _coefficients(self, module: ModuleStudy) -> Iterator[Value]:
        sheet, name = module.sheet, module.name
        for written, unsaid in (
            (sheet.voc_coefficient, NO_VOC_COEFFICIENT),
            (sheet.isc_coefficient, NO_ISC_COEFFICIENT),
        ):
            if written is not None:
                yield declared(written, unsaid.symbol, f"{unsaid.words} of {name}")
            else:
                yield self.assume.value(unsaid, name, sheet.at)

    def _possible_causes(self, string: StringStudy) -> Iterator[Cause]:
        """What can be wrong in a string, by the share of its voltage that it costs."""
        assert self.curves is not None
        count, groups = len(string.modules), self.curves.groups_of(string)
        if groups > count:
            yield self._cause("one group of cells shorted, by a failed bypass diode", 1 / groups)
        if count > 1:
            yield self._cause("one module missing or shorted", 1 / count)
        if count > 2:
            yield self._cause("one module connected the wrong way round", 2 / count)
            yield self._cause("two modules missing or shorted", 2 / count)

    def _cause(self, words: str, lost: float) -> Cause:
        band = self.expected_voc.times(1.0 - lost)
        return Cause(words, band.named("Voc", f"with {words}", "V"))


def _is_low(true: Band, curve: Band) -> bool:
    """True where the most that was read lies under the least that is expected."""
    return exceeds(curve.low, true.high)


def _is_high(true: Band, curve: Band) -> bool:
    """True where the least that was read lies over the most that is expected."""
    return exceeds(true.low, curve.high)


def _fewer(true: Band, curve: Band, count: int) -> int | None:
    """How many of a count give nothing, the likeliest where several would fit; None where none."""
    shares = {n: curve.times(1.0 - n / count) for n in range(1, count)}
    shown = true.expected.number
    fitting = [n for n, band in shares.items() if _overlap(true, band)]
    return min(fitting, key=lambda n: abs(shares[n].expected.number - shown), default=None)


def _more(true: Band, curve: Band, count: int) -> int | None:
    """The fewest, over a count, of which so many give what was read; None where none fits."""
    fits = range(count + 1, MOST_TIMES * count + 1)
    return next((n for n in fits if _overlap(true, curve.times(n / count))), None)


def _overlap(one: Band, other: Band) -> bool:
    return not _is_low(one, other) and not _is_high(one, other)


def _only(tree: Tree, sources: set[Source]) -> Tree | None:
    """Some strings of an array as they are joined, without the wires and devices; None of none."""
    if isinstance(tree, Leaf):
        return tree if isinstance(tree.element, Source) and tree.element in sources else None
    members = tuple(m for each in tree.members if (m := _only(each, sources)) is not None)
    if len(members) < 2:
        return members[0] if members else None
    if isinstance(tree, Series):
        return Series(members)
    return Parallel(members, tree.negative, tree.positive)
