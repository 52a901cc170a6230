"""Photovoltaic modules by their datasheet values and temperature coefficients.

Plain arithmetic, so that the formulas also work on numbers that record how they were computed.
Temperatures in °C. Source of the linear translation: IEC 60891:2021, procedure 1 without its
series-resistance terms; NEC 690.7(A) and IEC 62548-1 use the same form for the cold voltage.
"""

from __future__ import annotations

from wattproof.physics.arithmetic import N

STANDARD_TEMPERATURE = 25.0
"""°C of the cells at standard test conditions (IEC 61215, IEC 60904-3)."""

STANDARD_IRRADIANCE = 1000.0
"""W/m² at standard test conditions (IEC 61215, IEC 60904-3)."""


def at_temperature(value: N, coefficient: N, cells: N, standard: N) -> N:
    """A datasheet value at another cell temperature, by a relative coefficient (1/K).

    X(T) = X (1 + c (T - Tstc)); the result has the unit of the value.
    """
    return value * (1.0 + coefficient * (cells - standard))


def shifted_by_temperature(value: N, change_per_kelvin: N, cells: N, standard: N) -> N:
    """A datasheet value at another cell temperature, by an absolute coefficient (unit per K).

    X(T) = X + c (T - Tstc).
    """
    return value + change_per_kelvin * (cells - standard)


def voltage_coefficient_at_maximum_power(power: N, current: N) -> N:
    """Relative coefficient (1/K) of Vmp: that of power less that of current.

    P = V I, so to first order the relative changes add. The coefficient of short-circuit current
    stands in for that of the current at maximum power, which labels do not print.
    """
    return power - current


def temperature_at_limit(standard: float, value: float, cells: float, limit: float) -> float:
    """The cell temperature (°C) at which a value that is linear in temperature reaches a limit.

    standard: the value at standard temperature. value: the value at the temperature `cells`.
    Raises ZeroDivisionError where the value does not change.
    """
    rise = (limit - standard) / (value - standard)
    return STANDARD_TEMPERATURE + rise * (cells - STANDARD_TEMPERATURE)
