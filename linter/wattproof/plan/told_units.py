"""The units in which a plan tells its own values, and what is said of it in the same ones.

A plan that tells feet, gauges and °F is answered in feet, gauges and °F, whatever a rule counts in.
Workings stay in SI and in the units of their tables.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from wattproof.physics.conductors import gauge_area_mm2
from wattproof.plan.root import Plan
from wattproof.quantities import Quantity

_INCH, _FOOT = 0.0254, 0.3048
_TWO_INCHES: Final = 2.0 * _INCH
"""From which a length under a foot is told in whole inches."""
_NUMBER: Final = r"[−-]?[0-9]+(?:[.][0-9]+)?"
_FAHRENHEIT: Final = re.compile(rf"(?:({_NUMBER}) (to|and) )?({_NUMBER}) °C(?![a-z])")
_FEET: Final = re.compile(rf"(?:({_NUMBER}) (to|and) )?({_NUMBER}) (mm|cm|m)(?![\w²/·])")
_ABOUT_DEGREES: Final = re.compile(
    r"insulation|terminals|labels say|in °F|shows °F|°F would|°F[?]"
    r"|°C is [^.;]*°F|would be [^.;]*°C"
)
_GAUGE: Final = re.compile(r"([0-9]+(?:[.][0-9]+)?) mm²(?! \()")
_GAUGES: Final = (
    *("4/0", "3/0", "2/0", "1/0", "1", "2", "4", "6", "8", "10", "12", "14", "16", "18"),
)
_METRES: Final = {"mm": 0.001, "cm": 0.01, "m": 1.0}


class ToldUnits(NamedTuple):
    """Which units of the trade in America a plan uses.

    feet, gauges, fahrenheit: True where it tells lengths, sizes or temperatures so.
    """

    feet: bool = False
    gauges: bool = False
    fahrenheit: bool = False

    def said(self, text: str) -> str:
        """What is said to a reader, with its figures in the units of the plan.

        A text about units stays, and so do marks of insulation and terminals, which are printed
        in °C everywhere.
        """
        if self.fahrenheit and not _ABOUT_DEGREES.search(text):
            text = _FAHRENHEIT.sub(_in_fahrenheit, text)
        if self.feet and not re.search("[0-9] ft|[0-9] in ", text):
            text = _FEET.sub(_in_feet, text)
        if self.gauges and "AWG" not in text:
            text = _GAUGE.sub(_as_gauge, text)
        return text

    def written(self, text: str) -> str:
        """A value that a remedy writes into the plan, never longer than it was."""
        if self.fahrenheit and (celsius := _FAHRENHEIT.fullmatch(text)):
            return _in_fahrenheit(celsius).replace("−", "-")
        if self.feet and (metres := _FEET.fullmatch(text)):
            length = float(metres[3]) * _METRES[metres[4]]
            if _TWO_INCHES <= length < _FOOT:
                return f"{math.floor(length / _INCH + 1e-6)} in"
            return f"{math.floor(length / _FOOT * 100.0 + 1e-6) / 100.0:g} ft"
        return text


def units_of(plan: Plan) -> ToldUnits:
    """The units that most values of a plan have, by what they measure.

    Where no length is told, gauges tell how it would be.
    """
    sheets = plan.datasheets.cables.values()
    lengths = _told(wire.length for wire in plan.wires.values())
    gauges = _mostly(_told(sheet.size for sheet in sheets), r"(?i)awg|ga(uge)?$|/0|kcmil")
    return ToldUnits(
        feet=_mostly(lengths, r"(ft|in|feet|foot|inch(es)?|['\"′″])\.?$") if lengths else gauges,
        gauges=gauges,
        fahrenheit=_mostly(_told(_temperatures(plan)), "F$"),
    )


def _temperatures(plan: Plan) -> Iterator[Quantity | None]:
    yield from (plan.site.coldest, plan.site.hottest)
    for place in plan.site.places.values():
        yield from (place.ambient, place.coldest)
    for battery in plan.batteries.values():
        yield from (battery.min_charge_temperature, battery.max_temperature)


def _told(values: Iterable[Quantity | None]) -> list[str]:
    """What is written of values, without what stands in for those that are not."""
    return [str(value.text) for value in values if type(value) is Quantity]


def _mostly(told: list[str], pattern: str) -> bool:
    """Whether more than half of some values are written so."""
    return sum(bool(re.search(pattern, text)) for text in told) * 2 > len(told)


def _in_fahrenheit(found: re.Match[str]) -> str:
    def turned(number: str) -> str:
        value = float(number.replace("−", "-")) * 1.8 + 32.0
        text = f"{round(value)}" if "." not in number else f"{value:.1f}"
        return text.replace("-", "−")

    first = f"{turned(found[1])} {found[2]} " if found[1] else ""
    return f"{first}{turned(found[3])} °F"


def _in_feet(found: re.Match[str]) -> str:
    scale = _METRES[found[4]]
    small = float(found[3]) * scale < 1.0

    def turned(number: str) -> str:
        metres = float(number.replace("−", "-")) * scale
        return f"{metres / _INCH:.0f}" if small else f"{metres / _FOOT:.3g}"

    first = f"{turned(found[1])} {found[2]} " if found[1] else ""
    return f"{first}{turned(found[3])} {'in' if small else 'ft'}"


def _as_gauge(found: re.Match[str]) -> str:
    """The gauge that is nearest, by the logarithm of the area."""
    area = float(found[1])
    if area <= 0.0:
        return found[0]
    near = min(_GAUGES, key=lambda gauge: abs(math.log(gauge_area_mm2(gauge) / area)))
    return f"about {near} AWG"
