"""The single-diode model of photovoltaic cells in series, and its curve.

    I = IL - I0 (exp((V + I Rs) / a) - 1) - (V + I Rs) / Rsh

V and I are taken at the terminals, positive where the cells deliver power. `a` is the modified
ideality n Ns k T / q. The voltage across the diode, Vd = V + I Rs, is the parameter of the curve:
given Vd, current and terminal voltage follow without iteration.

Sources: W. De Soto, S. A. Klein, W. A. Beckman, "Improvement and validation of a model for
photovoltaic array performance", Solar Energy 80 (2006) 78-88, doi 10.1016/j.solener.2005.06.010,
for the model; J. W. Bishop, "Computer simulation of the effects of electrical mismatches in
photovoltaic cell interconnection circuits", Solar Cells 25 (1988) 73-89,
doi 10.1016/0379-6787(88)90059-2, for the curve as a sweep of the diode's voltage.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

from wattproof.physics.roots import bracketed_root, newton_from_above

ZERO_CELSIUS = 273.15  # K

_LARGEST_EXPONENT = 700.0  # exp(709.8) is the largest that a float holds


@dataclass(frozen=True)
class Diode:
    """Parameters of one unit of equal cells in series at one temperature and irradiance.

    photocurrent IL (A, not negative), saturation_current I0 (A, positive), series_resistance Rs
    (ohm, not negative), shunt_resistance Rsh (ohm, positive, may be infinite), modified_ideality
    a = n Ns k T / q (V, positive). ValueError where a value is out of these bounds.
    """

    photocurrent: float
    saturation_current: float
    series_resistance: float
    shunt_resistance: float
    modified_ideality: float

    def __post_init__(self) -> None:
        if not 0.0 <= self.photocurrent < math.inf:
            raise ValueError("photocurrent must be a finite current, not negative")
        if not 0.0 < self.saturation_current < math.inf:
            raise ValueError("saturation current must be a finite current above zero")
        if not 0.0 <= self.series_resistance < math.inf:
            raise ValueError("series resistance must be a finite resistance, not negative")
        if not self.shunt_resistance > 0.0:
            raise ValueError("shunt resistance must be above zero")
        if not 0.0 < self.modified_ideality < math.inf:
            raise ValueError("modified ideality must be a finite voltage above zero")


def share(diode: Diode, fraction: float) -> Diode:
    """Return the model of a `fraction` of the cells of `diode` (two equal groups: one half each).

    In series, voltages and resistances divide and currents stay. `fraction` above zero; above one
    joins equal units in series. Exact for the single-diode equation.
    """
    if not 0.0 < fraction < math.inf:
        raise ValueError("the fraction of the cells must be above zero")
    return Diode(
        photocurrent=diode.photocurrent,
        saturation_current=diode.saturation_current,
        series_resistance=diode.series_resistance * fraction,
        shunt_resistance=diode.shunt_resistance * fraction,
        modified_ideality=diode.modified_ideality * fraction,
    )


def current_at_diode_voltage(diode: Diode, diode_voltage: float) -> float:
    """Return the terminal current (A) where the voltage across the diode is `diode_voltage` (V)."""
    return (
        diode.photocurrent
        - diode.saturation_current * _exponential_less_one(diode_voltage / diode.modified_ideality)
        - diode_voltage / diode.shunt_resistance
    )


def open_circuit_voltage(diode: Diode) -> float:
    """Return the voltage (V) at no current; zero without light."""
    return _diode_voltage_at(diode, 0.0)


def short_circuit_current(diode: Diode) -> float:
    """Return the current (A) at no voltage; zero without light."""
    return current_at(diode, 0.0)


def voltage_at(diode: Diode, current: float) -> float:
    """Return the terminal voltage (V) at any terminal `current` (A).

    Below zero: the unit is fed from outside and its voltage is above the open-circuit voltage.
    Above the photocurrent: the unit is driven in reverse and the shunt carries the rest; with an
    infinite shunt resistance no voltage drives that current, which is a ValueError. Breakdown of
    the cells is not part of this model.
    """
    return _diode_voltage_at(diode, current) - current * diode.series_resistance


def current_at(diode: Diode, voltage: float) -> float:
    """Return the terminal current (A) at any terminal `voltage` (V), negative when fed."""
    return current_at_diode_voltage(diode, _diode_voltage_at_terminal(diode, voltage))


@lru_cache(maxsize=4096)
def maximum_power(diode: Diode) -> tuple[float, float, float]:
    """Return voltage (V), current (A) and power (W) at maximum power; zeros without light.

    The zero of dP/dVd lies between short circuit and open circuit and is unique there, because
    the curve is concave; it is found inside that bracket. Remembered by value: one label is asked
    in every reading of a plan and in every trial of a remedy.
    """
    if diode.photocurrent == 0.0:
        return 0.0, 0.0, 0.0

    def slope_of_power(diode_voltage: float) -> float:
        current = current_at_diode_voltage(diode, diode_voltage)
        voltage = diode_voltage - current * diode.series_resistance
        conductance = _conductance(diode, diode_voltage)
        return current * (1.0 + diode.series_resistance * conductance) - voltage * conductance

    diode_voltage = bracketed_root(
        slope_of_power, _diode_voltage_at_terminal(diode, 0.0), _diode_voltage_at(diode, 0.0)
    )
    current = current_at_diode_voltage(diode, diode_voltage)
    voltage = diode_voltage - current * diode.series_resistance
    return voltage, current, voltage * current


def curve(diode: Diode, points: int) -> tuple[list[float], list[float]]:
    """Return voltages (V, rising from zero) and currents (A, falling to zero) of `points` points.

    The first point is short circuit, the last open circuit. The sweep of the diode's voltage is
    closer towards open circuit, where the curve bends. At least two points, else ValueError.
    Without light every point is the origin.
    """
    if points < 2:
        raise ValueError("a curve has at least two points")
    first = _diode_voltage_at_terminal(diode, 0.0)
    last = _diode_voltage_at(diode, 0.0)
    voltages, currents = [], []
    for step in range(points):
        left = 1.0 - step / (points - 1)
        diode_voltage = last - (last - first) * left * left
        current = current_at_diode_voltage(diode, diode_voltage)
        voltages.append(diode_voltage - current * diode.series_resistance)
        currents.append(current)
    voltages[0] = 0.0
    currents[-1] = 0.0
    voltages[-1] = last
    return voltages, currents


def _conductance(diode: Diode, diode_voltage: float) -> float:
    """Return -dI/dVd (S): of the diode and the shunt together."""
    exponent = min(diode_voltage / diode.modified_ideality, _LARGEST_EXPONENT)
    return (
        diode.saturation_current / diode.modified_ideality * math.exp(exponent)
        + 1.0 / diode.shunt_resistance
    )


def _exponential_less_one(exponent: float) -> float:
    """Return exp(x) - 1, held at a finite height far beyond any real module."""
    return math.expm1(min(exponent, _LARGEST_EXPONENT))


def _voltage_of_diode_alone(diode: Diode, diode_current: float) -> float:
    """Return the voltage (V) at which the diode alone carries `diode_current` (A, not negative)."""
    ratio = diode_current / diode.saturation_current
    if math.isinf(ratio):
        return diode.modified_ideality * (
            math.log(diode_current) - math.log(diode.saturation_current)
        )
    return diode.modified_ideality * math.log1p(ratio)


def _diode_voltage_at(diode: Diode, current: float) -> float:
    """Return the voltage across the diode (V) at a terminal `current` (A).

    Current less terminal current falls and is concave in Vd: Newton's method from the right of
    its only zero cannot miss it.
    """
    surplus = diode.photocurrent - current
    if surplus >= 0.0:
        low, high = 0.0, _voltage_of_diode_alone(diode, surplus)
    elif math.isfinite(diode.shunt_resistance):
        low, high = surplus * diode.shunt_resistance, 0.0
    elif -surplus < diode.saturation_current:
        return diode.modified_ideality * math.log1p(surplus / diode.saturation_current)
    else:
        raise ValueError(
            "the current is above the photocurrent and the shunt resistance is infinite: "
            "no voltage drives it"
        )

    def step(diode_voltage: float) -> float:
        excess = current_at_diode_voltage(diode, diode_voltage) - current
        return excess / -_conductance(diode, diode_voltage)

    return newton_from_above(step, low, high)


def _diode_voltage_at_terminal(diode: Diode, voltage: float) -> float:
    """Return the voltage across the diode (V) at a terminal `voltage` (V).

    Vd - Rs I(Vd) - V rises and is convex in Vd: Newton's method from the right of its only zero
    cannot miss it. Where the photocurrent keeps Vd above zero, the diode carries at most what
    the series resistance lets through, which bounds Vd without overflow.
    """
    resistance = diode.series_resistance
    if resistance == 0.0:
        return voltage
    reach = voltage + resistance * diode.photocurrent
    if reach <= 0.0:
        low, high = reach, 0.0
    else:
        low, high = 0.0, min(reach, _voltage_of_diode_alone(diode, reach / resistance))

    def step(diode_voltage: float) -> float:
        current = current_at_diode_voltage(diode, diode_voltage)
        excess = diode_voltage - resistance * current - voltage
        return excess / (1.0 + resistance * _conductance(diode, diode_voltage))

    return newton_from_above(step, low, high)
