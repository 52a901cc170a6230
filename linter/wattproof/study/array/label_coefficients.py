"""A label's temperature coefficients against those of real modules, and which slip explains one.

The bands together hold for all but one in a hundred of 20,946 crystalline modules in an open set of
datasheets; the wider limits beyond which a slip is certain, and those of thin film, are trade
practice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final, NamedTuple, Protocol

from wattproof.plan.datasheets import ModuleSheet
from wattproof.quantities import Quantity
from wattproof.record import record
from wattproof.working import Value, declared, digits


class Range(NamedTuple):
    """Relative coefficients (1/K): of real modules, and beyond which no module lies."""

    low: float
    high: float
    never_below: float
    never_above: float


RANGES: Final = {
    "Voc": Range(-0.0050, -0.0020, -0.010, -0.0010),
    "Vmp": Range(-0.0065, -0.0020, -0.010, -0.0010),
    "Pmax": Range(-0.0065, -0.0022, -0.010, -0.0010),
    "Isc": Range(-0.0002, 0.0020, -0.002, 0.0040),
}
TYPICAL: Final = {"Voc": -0.0029, "Vmp": -0.0036, "Pmax": -0.0036, "Isc": 0.0005}  # 1/K
THIN_FILM_HIGHEST: Final = -0.0015  # 1/K of voltage and power

_UNITS: Final = {"Voc": "mV/K", "Vmp": "mV/K", "Isc": "mA/K", "Pmax": "mW/K"}


class Label(Protocol):
    """A module's label, with the values (V, A, W) that its coefficients belong to."""

    sheet: ModuleSheet
    name: str

    @property
    def voc(self) -> Value: ...
    @property
    def vmp(self) -> Value: ...
    @property
    def isc(self) -> Value: ...
    @property
    def pmax(self) -> Value: ...


@record
class OddCoefficient:
    """A coefficient that is no real module's.

    of: the value that it belongs to. relative: in 1/K. absolute: the same in that value's unit
    per kelvin, in words. likely: what the label probably says, in words; empty where unclear.
    certain: a wrong sign, or a size that no module has.
    """

    of: str
    written: Quantity
    relative: Value
    absolute: str
    band: tuple[float, float]
    likely: str
    certain: bool

    @property
    def key(self) -> str:
        """Its key in the plan."""
        return f"{self.of.lower()}_coefficient"

    @property
    def margin(self) -> float:
        """How far outside the band, as a share of its nearer end; negative."""
        number = self.relative.number
        nearer = min(self.band, key=lambda end: abs(end - number))
        return -abs(number - nearer) / abs(nearer)


def odd_coefficients(module: Label) -> tuple[OddCoefficient, ...]:
    """The coefficients of a label that are no real module's."""
    sheet = module.sheet
    found = (
        _odd(module, "Voc", "β", sheet.voc_coefficient, module.voc),
        _odd(module, "Vmp", "βmp", sheet.vmp_coefficient, module.vmp),
        _odd(module, "Isc", "α", sheet.isc_coefficient, module.isc),
        _odd(module, "Pmax", "γ", sheet.pmax_coefficient, module.pmax),
    )
    return tuple(odd for odd in found if odd is not None)


def _odd(
    module: Label, of: str, symbol: str, written: Quantity | None, label: Value
) -> OddCoefficient | None:
    if written is None:
        return None
    words = f"temperature coefficient of {of} of {module.name}"
    relative = declared(written, symbol, words)
    if written.dimension != "relative coefficient":
        relative = (relative / label).named(f"{symbol}rel", words, "1/K")
    known = RANGES[of]
    low, high = known.low, known.high
    if module.sheet.technology == "thin-film" and of != "Isc":
        high = THIN_FILM_HIGHEST
    number = relative.number
    if max(low - number, number - high) <= _HAIR:
        return None
    certain = not known.never_below <= number <= known.never_above
    readings = [r for r in _readings(of, written, label.number) if low <= r[0] <= high]
    _, likely = min(readings, key=lambda r: abs(math.log(abs(r[0] / TYPICAL[of]))), default=(0, ""))
    absolute = f"{digits(number * label.number * 1000.0)} {_UNITS[of]}"
    return OddCoefficient(of, written, relative, absolute, (low, high), likely, certain)


_HAIR: Final = 1e-12  # 1/K, so that binary arithmetic never decides


def _readings(of: str, written: Quantity, label: float) -> Iterator[tuple[float, str]]:
    """What the label may say instead: relative coefficients (1/K), and how in words."""
    share = written.dimension == "relative coefficient"
    relative = written.value if share else written.value / label
    yield -relative, f"its sign is lost: {_percent(-relative)}"
    printed = _printed(written)
    for unit, value in (
        ("%/K", printed / 100.0),
        (_UNITS[of], printed / 1000.0 / label),
        (_UNITS[of].removeprefix("m"), printed / label),
    ):
        means = "" if unit == "%/K" else f"{digits(printed)} {unit} is "
        yield value, f"its unit is {unit}: {means}{_percent(value)}"
    for factor, way in ((10.0, "one place"), (100.0, "two places")):
        for value in (relative * factor, relative / factor):
            yield value, f"its point is off by {way}: {_percent(value)}"


def _printed(written: Quantity) -> float:
    """The number as it stands on the label, without its unit."""
    if written.dimension == "relative coefficient":
        return written.value * 100.0
    return written.value * (1000.0 if _is_milli(written.text) else 1.0)


def _is_milli(text: str) -> bool:
    return any(unit in text for unit in ("mV", "mA", "mW"))


def _percent(relative: float) -> str:
    return f"{digits(relative * 100.0)} %/K"
