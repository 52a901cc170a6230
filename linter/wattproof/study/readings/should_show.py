"""What a meter should show of an installation that is as planned, in some sun and at some heat.

Each is an answer of the judge of readings, asked before there is a reading: between which values
of a meter it would find nothing, and how small a loss it would still find.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any, Final, Literal, NamedTuple, TypeAlias

from wattproof.plan.array import Combiner, String
from wattproof.plan.power import Controller
from wattproof.plan.readings import Reading
from wattproof.quantities import Quantity, read_quantity
from wattproof.record import record
from wattproof.source import Place, Text
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.battery.side import BankStudy
from wattproof.study.limits import LEAST_POWER
from wattproof.study.readings.conditions import Band, high, is_high, is_low, low
from wattproof.study.readings.expected import Expected, Working
from wattproof.working import Value, declared

Measured: TypeAlias = Literal["voc", "isc"]
Kind: TypeAlias = Literal["string", "joint", "input"]
STEP: Final = 0.1
"""V and A: the last digit in which such a value is read and written."""
NAME: Final = "sheet"
_UNITS: Final = {"voc": "V", "isc": "A"}


class Sky(NamedTuple):
    """The conditions that a sheet is made for: sun, and air or cells; None where not told."""

    sun: Quantity | None = None
    air: Quantity | None = None
    cells: Quantity | None = None


@record
class Shown:
    """What a meter may show at one place while nothing is wrong.

    again: the smallest fall, as a share of what was read there before, that is found; None where
    nothing was. before: the names of those readings.

    least, most: the limits of what it shows (V or A), in steps of its last digit. likely: what the
    curve gives. finds: the smallest share of that which, missing, is still found. surely: the share
    that is found in whatever sun and heat the conditions leave open.
    """

    measured: Measured
    least: Value
    likely: Value
    most: Value
    finds: float
    surely: float
    again: float | None = None
    before: tuple[str, ...] = ()


@record
class AtArray:
    """What to expect at a string, a joint or a solar input.

    kind: which of these. part: the string, joint or controller. voc, isc: None where no curve can
    be drawn or the sun is too dim. working: in operation, at the solar input: likely, in the least
    sun and at the greatest heat, in the most and at the least.
    """

    where: str
    kind: Kind
    part: String | Combiner | Controller
    strings: int
    in_series: int
    voc: Shown | None
    isc: Shown | None
    working: tuple[Working, Working, Working] | None = None
    controller: str = ""

    def beside(self, again: dict[str, tuple[float, tuple[str, ...]]]) -> AtArray:
        """The same with what is found beside earlier readings: by key, the fall and their names."""
        voc, isc = (
            replace(shown, again=again[key][0], before=again[key][1])
            if shown is not None and key in again and again[key][0] < shown.finds
            else shown
            for key, shown in (("voc", self.voc), ("isc", self.isc))
        )
        return replace(self, voc=voc, isc=isc)

    @property
    def found_of_power(self) -> float:
        """The smallest share of the power in operation that, missing, is still told."""
        return 1.0 - LEAST_POWER


@record
class AtBank:
    """What to expect at the posts of a bank (V).

    empty, resting: at rest. is_lead: of lead, which is flat long before it is empty under load.
    most: in charge, by the air where that is told.
    """

    where: str
    is_lead: bool
    empty: Value
    resting: Value
    most: Value | None


def at_array(judge: Expected, kind: Kind, part: AtArrayPart) -> AtArray:
    """What the judge of readings would take as right there."""
    voc = isc = None
    working = None
    taken = judge.taken
    if judge.curves is not None and judge.decidable:
        voc = _shown("voc", judge.voc, taken.conditions.volts)
        isc = _shown("isc", judge.isc, taken.conditions.amps)
        if kind == "input":
            likely = judge.working()
            dim, bright = judge.working(sun=low, heat=high), judge.working(sun=high, heat=low)
            if likely is not None and dim is not None and bright is not None:
                working = (likely, dim, bright)
    count, name = len(taken.strings), str(taken.array.controller.name)
    return AtArray(taken.where, kind, part, count, taken.in_series, voc, isc, working, name)


AtArrayPart: TypeAlias = String | Combiner | Controller


def reading_for(where: str, place: Place, sky: Sky, **shown: Quantity) -> Reading:
    """A reading that was not taken yet, in the conditions that a sheet is made for.

    shown: what the meter will show, where that is supposed.
    """
    told: dict[str, Any] = {"irradiance": sky.sun, "air_temperature": sky.air, **shown}
    return Reading.model_construct(
        name=Text.at(NAME, place),
        at_terminal=Text.at(where, place),
        **{key: value for key, value in told.items() if value is not None},
    )


def told_cells(sky: Sky) -> Value | None:
    """Temperature of the cells that a sheet is made for (°C)."""
    if sky.cells is None:
        return None
    return declared(sky.cells, "Tcell", "cells")


def places(array: ArrayStudy) -> Iterator[tuple[Kind, AtArrayPart]]:
    """Where an array is measured, in the order of measuring: strings, joints, its input."""
    for string in sorted(array.declared_strings, key=lambda string: string.at):
        yield "string", string
    for joint in array.joints:
        if joint.combiner is not None:
            yield "joint", joint.combiner
    yield "input", array.controller


def _shown(measured: Measured, band: Band, truly: Callable[[Value, Quantity], Band]) -> Shown:
    """The values of a meter between which the judge finds nothing.

    truly: what a value shown may truly be. The judge itself is asked about one step after another.
    """
    unit = _UNITS[measured]

    def of(steps: int) -> tuple[Value, Band]:
        written = _written(steps, unit)
        shown = declared(written, measured, "shown by the meter")
        return shown, truly(shown, written)

    least = max(_walk(band.low.number, lambda steps: is_low(of(steps)[1], band)), 0)
    most = -_walk(-band.high.number, lambda steps: is_high(of(-steps)[1], band))
    under = (least - 1) * STEP
    finds, surely = (
        min(1.0 - under / number, 1.0) for number in (band.expected.number, band.high.number)
    )
    return Shown(measured, of(least)[0], band.expected, of(most)[0], finds, surely)


def _walk(start: float, outside: Callable[[int], bool]) -> int:
    """The first step that is not outside, looked for around a number."""
    step = math.floor(start / STEP)
    while outside(step):
        step += 1
    while not outside(step - 1):
        step -= 1
        if abs(step * STEP - start) > max(20.0, abs(start)):
            break
    return step


def likely_of(found: AtArray) -> dict[str, Quantity]:
    """What the meter will likely show there, as it would be written."""
    likely = {"voc": found.voc, "isc": found.isc}
    return {
        key: _written(round(shown.likely.number / STEP), shown.likely.unit)
        for key, shown in likely.items()
        if shown is not None
    }


def _written(steps: int, unit: str) -> Quantity:
    """A value as a meter shows it, with one digit after the point."""
    dimension = "measured voltage" if unit == "V" else "measured current"
    text = Text.at(f"{steps * STEP:.1f} {unit}", Place("", 1, 1, 1, 1))
    return read_quantity(text, dimension)


def at_bank(bank: BankStudy, most: Value | None) -> AtBank:
    """What its posts show at rest and in charge."""
    return AtBank(bank.name, bank.is_lead, bank.flat_at_rest, bank.resting_voltage, most)
