"""Conductors: gauges, resistance, voltage drop, loss, heating limits.

Plain functions of plain numbers. The formulas of drop and loss use nothing but ``+ - * /``, so
that they also work on numbers that record how they were computed.
"""

import math
from functools import cache
from typing import NamedTuple

from wattproof.physics.arithmetic import N

SMALLEST_GAUGE = 24
_OUGHTS = ("1/0", "2/0", "3/0", "4/0")
_KCMIL = tuple(f"{size} kcmil" for size in (250, 300, 350, 400, 500))

SQUARE_MILLIMETRES_PER_KCMIL = math.pi / 4 * 0.0254**2 * 1000
"""mm² of 1000 circular mils: circles of one mil, 0.0254 mm, across."""

COPPER_RESISTIVITY = 0.0172414
"""Ohm mm²/m at 20 °C: 100 % IACS, defined by IEC 60028 as 1/58."""

COPPER_COEFFICIENT = 0.00393
"""Change of copper's resistance per kelvin, referred to 20 °C (IEC 60028; from memory)."""


class ConductorSize(NamedTuple):
    """One size of conductor: area in mm², and the AWG gauge when it is named by one."""

    area_mm2: float
    gauge: str | None = None

    @property
    def name(self) -> str:
        """As the trade writes it: ``10 AWG``, ``2/0 AWG``, ``250 kcmil``, ``6 mm²``."""
        return f"{self.area_mm2:g} mm²" if self.gauge is None else gauge_name(self.gauge)


@cache
def known_gauges() -> tuple[str, ...]:
    """Sizes of the American series from the thinnest, 24, over 4/0 to the thickest, 500 kcmil."""
    return (*(str(number) for number in range(SMALLEST_GAUGE, 0, -1)), *_OUGHTS, *_KCMIL)


def gauge_name(gauge: str) -> str:
    """A size of the American series as the trade writes it: ``10 AWG``, ``250 kcmil``."""
    return gauge if gauge.endswith("kcmil") else f"{gauge} AWG"


def gauge_diameter_mm(gauge: str) -> float:
    """Diameter in mm of the solid round wire of a gauge ("24" … "1", "1/0" … "4/0").

    ASTM B258: d = 0.127 mm x 92^((36 - n)/39), where 1/0 counts as n = 0 and 4/0 as n = -3.
    Raises ValueError for anything that is not one of these gauges.
    """
    return float(0.127 * 92.0 ** ((36 - _gauge_number(gauge)) / 39))


def gauge_area_mm2(gauge: str) -> float:
    """Copper area in mm² of a gauge: pi/4 times the square of the ASTM B258 diameter.

    Of a size in kcmil, thousands of circular mils, what its name says.
    """
    if gauge in _KCMIL:
        return float(gauge.removesuffix(" kcmil")) * SQUARE_MILLIMETRES_PER_KCMIL
    return math.pi / 4 * gauge_diameter_mm(gauge) ** 2


def conductor_of_gauge(gauge: str) -> ConductorSize:
    """The conductor size that a gauge names. Raises ValueError for an unknown gauge."""
    return ConductorSize(gauge_area_mm2(gauge), gauge)


def _gauge_number(gauge: str) -> int:
    if gauge in _OUGHTS:
        return 1 - int(gauge[0])
    if gauge in known_gauges() and gauge not in _KCMIL:
        return int(gauge)
    raise ValueError(f"{gauge!r} is not a gauge from 24 to 4/0")


def resistance_at(
    resistance_at_reference: N, reference_temperature: N, temperature: N, coefficient: N
) -> N:
    """Resistance at a temperature, in the unit of the first value.

    R = Rref (1 + a (T - Tref)), temperatures in °C, a per kelvin and referred to Tref.
    Source: IEC 60028 for 20 °C; NEC Chapter 9 Table 8, note 2, for 75 °C.
    """
    return resistance_at_reference * (coefficient * (temperature - reference_temperature) + 1.0)


def conductor_resistance(resistance_per_metre: N, length: N, parallel: N | None = None) -> N:
    """Resistance in ohm of one pole: r L / n, for ohm/m, m, and n like conductors in parallel."""
    whole = resistance_per_metre * length
    return whole if parallel is None else whole / parallel


def power_loss(current: N, resistance: N) -> N:
    """Heat in W made by a current in A in a resistance in ohm: I² R (Joule's law)."""
    return current * current * resistance


def ambient_factor_law(conductor_temperature: float, ambient: float, base: float) -> float:
    """Factor on a current rating for another ambient: sqrt((Tc - Ta)/(Tc - Tbase)).

    The heat balance behind the correction tables: temperature rise grows with the square of the
    current. °C. ``base`` is the ambient of the rating. 0 when the ambient is not below the
    conductor's limit (nor a number). Source: NEC 310.15(B) equation; IEC 60364-5-52.
    Raises ValueError when ``base`` is not below the conductor's limit.
    """
    if not base < conductor_temperature:
        raise ValueError("a rating's own ambient must be below the conductor's temperature")
    if not ambient < conductor_temperature:
        return 0.0
    return math.sqrt((conductor_temperature - ambient) / (conductor_temperature - base))


ALUMINIUM_WITHSTAND = 0.655
"""The k of aluminium against copper: 148 over 226 (IEC 60364-5-54 Annex A, from memory).

Copper-clad aluminium counts as aluminium."""


def withstand_time(area_mm2: float, current: float, k: float) -> float:
    """Seconds that a conductor bears a short-circuit current: (k S / I)².

    No heat leaves the conductor in so short a time. S in mm², I in A, k in A s^0.5/mm².
    Meant for 0.1 s to 5 s: for less compare I²t let through with k²S². Infinite without current.
    Source: IEC 60364-4-43, 434.5.2 (from memory). Raises ValueError for a negative current or a
    non-positive area or k.
    """
    if not (area_mm2 > 0 and k > 0 and current >= 0):
        raise ValueError("area and k must be positive, and the current must not be negative")
    return math.inf if current == 0 else (k * area_mm2 / current) ** 2


def warming_constant(area_mm2: float, ampacity: float, k: float) -> float:
    """Time constant (s) of a conductor's warming: (k S / Iz)².

    In that time its ampacity would warm it, with no heat lost, from the air around to what its
    insulation stands, which is what it reaches in the end. S in mm², Iz in A, k in A s^0.5/mm² for
    those two temperatures. The insulation's own heat is left out, so the true one is longer.
    Source: the balance of heat in a body that warms evenly; k of IEC 60364-5-54 Annex A.
    Raises ValueError unless all are positive.
    """
    if not (area_mm2 > 0 and k > 0 and ampacity > 0):
        raise ValueError("area, k and ampacity must be positive")
    return (k * area_mm2 / ampacity) ** 2


def copper_withstand_constant(initial: float, final: float) -> float:
    """The k of :func:`withstand_time` for copper heated from one temperature to another, in °C.

    k = sqrt(Qc (B + 20)/rho20 x ln(1 + (Tf - Ti)/(B + Ti))), with Qc = 3.45e-3 J/(K mm³),
    B = 234.5 °C, rho20 = 17.241e-6 ohm mm. Source: IEC 60364-5-54 Annex A (from memory; it
    reproduces the rounded figures of IEC 60364-4-43 Table 43A). Raises ValueError unless
    -234.5 < initial < final.
    """
    if not -234.5 < initial < final:
        raise ValueError("the final temperature must be above the initial one")
    growth = math.log(1 + (final - initial) / (234.5 + initial))
    return math.sqrt(3.45e-3 * (234.5 + 20) / 17.241e-6 * growth)
