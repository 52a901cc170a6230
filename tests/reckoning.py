"""What a working shows, reckoned anew from its text alone, as a reader does with a calculator.

Each number in a working is rounded to four digits (`working.EXACT`), so a reader gets a range: the
shown result has to lie in it. Units are reckoned along, in volts, amperes, seconds, metres and K.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from itertools import product
from typing import Final, NamedTuple

Dimension = frozenset[tuple[str, int]]
"""Base units with their powers."""


class NotReckoned(Exception):
    """A working with a function in it that is more than arithmetic."""


def _dimension(**powers: int) -> Dimension:
    return frozenset((unit, power) for unit, power in powers.items() if power)


_NONE: Final = _dimension()
_UNITS: Final = {
    "": (1.0, _NONE),
    "%": (0.01, _NONE),
    "°": (1.0, _NONE),
    "V": (1.0, _dimension(V=1)),
    "mV": (1e-3, _dimension(V=1)),
    "A": (1.0, _dimension(A=1)),
    "mA": (1e-3, _dimension(A=1)),
    "kA": (1e3, _dimension(A=1)),
    "W": (1.0, _dimension(V=1, A=1)),
    "kW": (1e3, _dimension(V=1, A=1)),
    "Wh": (3600.0, _dimension(V=1, A=1, s=1)),
    "kWh": (3.6e6, _dimension(V=1, A=1, s=1)),
    "Ah": (3600.0, _dimension(A=1, s=1)),
    "%/h": (0.01 / 3600.0, _dimension(s=-1)),
    "s": (1.0, _dimension(s=1)),
    "h": (3600.0, _dimension(s=1)),
    "d": (1.0, _NONE),
    "Ω": (1.0, _dimension(V=1, A=-1)),
    "mΩ": (1e-3, _dimension(V=1, A=-1)),
    "µΩ": (1e-6, _dimension(V=1, A=-1)),
    "Ω/m": (1.0, _dimension(V=1, A=-1, m=-1)),
    "mΩ/m": (1e-3, _dimension(V=1, A=-1, m=-1)),
    "m": (1.0, _dimension(m=1)),
    "cm": (0.01, _dimension(m=1)),
    "mm": (1e-3, _dimension(m=1)),
    "ft": (0.3048, _dimension(m=1)),
    "feet": (0.3048, _dimension(m=1)),
    "'": (0.3048, _dimension(m=1)),
    "in": (0.0254, _dimension(m=1)),
    '"': (0.0254, _dimension(m=1)),
    "m²": (1.0, _dimension(m=2)),
    "mm²": (1e-6, _dimension(m=2)),
    "m/s": (1.0, _dimension(m=1, s=-1)),
    "W/m²": (1.0, _dimension(V=1, A=1, m=-2)),
    "kg/m³": (1.0, _dimension(V=1, A=1, s=3, m=-5)),
    "Pa": (1.0, _dimension(V=1, A=1, s=1, m=-3)),
    "N": (1.0, _dimension(V=1, A=1, s=1, m=-1)),
    "V/K": (1.0, _dimension(V=1, K=-1)),
    "K": (1.0, _dimension(K=1)),
    "°C": (1.0, _dimension(K=1)),
    "%/K": (0.01, _dimension(K=-1)),
    "mV/°C": (1e-3, _dimension(V=1, K=-1)),
    "%/°C": (0.01, _dimension(K=-1)),
    "%/°F": (0.018, _dimension(K=-1)),
}


class Range(NamedTuple):
    """What a number may be that is shown rounded, in SI."""

    low: float
    high: float
    dimension: Dimension

    def meets(self, other: Range) -> bool:
        return self.low <= other.high and other.low <= self.high

    def __add__(self, other: Range) -> Range:  # type: ignore[override]
        assert self.dimension == other.dimension, "a sum of different units"
        return Range(self.low + other.low, self.high + other.high, self.dimension)

    def __sub__(self, other: Range) -> Range:
        assert self.dimension == other.dimension, "a difference of different units"
        return Range(self.low - other.high, self.high - other.low, self.dimension)

    def __mul__(self, other: Range) -> Range:  # type: ignore[override]
        ends = [a * b for a, b in product(self[:2], other[:2])]
        return Range(min(ends), max(ends), _joined(self.dimension, other.dimension, 1))

    def __truediv__(self, other: Range) -> Range:
        assert other.low * other.high > 0.0, "a quotient by what may be nothing"
        ends = [a / b for a, b in product(self[:2], other[:2])]
        return Range(min(ends), max(ends), _joined(self.dimension, other.dimension, -1))


def _joined(one: Dimension, other: Dimension, sign: int) -> Dimension:
    powers = Counter(dict(one))
    for unit, power in other:
        powers[unit] += sign * power
    return _dimension(**powers)


def reckoned(text: str) -> Range:
    """What a formula with its numbers gives. Raises NotReckoned."""
    return _Reader(text).whole()


def printed(text: str) -> Range:
    """A number with its unit as it is printed: within half of its fourth digit."""
    found = _NUMBER.fullmatch(text)
    assert found, f"not a number with a unit: {text!r}"
    number, unit = float(found["number"].replace("−", "-")), found["unit"] or ""
    if unit == "°F":
        number, unit = (number - 32.0) / 1.8, "°C"
    factor, dimension = _UNITS[unit]
    half = 0.5 * 10.0 ** (math.floor(math.log10(abs(number))) - 3) if number else 0.0
    return Range((number - half) * factor, (number + half) * factor, dimension)


_PLAIN: Final = r"−?[\d.]+(?:['\"]| [^\d\s();+−×/][^\s();]*)?(?: \(from [^)]*\))?"
_NUMBER: Final = re.compile(r"(?P<number>−?[\d.]+) ?(?P<unit>[^\s(]+)?(?: \(from .*\))?")
_TOKEN: Final = re.compile(
    r" (?P<sign>[+−×/]) |(?P<mark>; |[()])|(?P<name>[a-z][a-z ]*) (?=\()"
    rf"|(?P<plain>{_PLAIN})"
)


class _Reader:
    """The usual order: brackets, then × and /, then + and −."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._at = 0

    def whole(self) -> Range:
        found = self._sum()
        assert self._at == len(self._text), f"not read: {self._text[self._at :]!r}"
        return found

    def _next(self, *wanted: str) -> str:
        """The next sign or mark, where it is one of those wanted; empty where it is another."""
        found = _TOKEN.match(self._text, self._at)
        said = found and (found["sign"] or found["mark"])
        if not found or said not in wanted:
            return ""
        self._at = found.end()
        return str(said)

    def _sum(self) -> Range:
        found = self._product()
        while sign := self._next("+", "−"):
            other = self._product()
            found = found + other if sign == "+" else found - other
        return found

    def _product(self) -> Range:
        found = self._factor()
        while sign := self._next("×", "/"):
            other = self._factor()
            found = found * other if sign == "×" else found / other
        return found

    def _factor(self) -> Range:
        if self._next("("):
            found = self._sum()
            assert self._next(")")
            return found
        token = _TOKEN.match(self._text, self._at)
        assert token, f"not read: {self._text[self._at :]!r}"
        self._at = token.end()
        if token["name"]:
            return self._function(token["name"])
        return printed(token["plain"])

    def _function(self, name: str) -> Range:
        choice = {"largest of": max, "smallest of": min}.get(name)
        if choice is None:
            raise NotReckoned(name)
        assert self._next("(")
        members = [self._sum()]
        while self._next("; "):
            members.append(self._sum())
        assert self._next(")")
        [dimension] = {m.dimension for m in members}
        return Range(choice(m.low for m in members), choice(m.high for m in members), dimension)
