"""Properties of the datasheet formulas."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.physics.modules import (
    at_temperature,
    shifted_by_temperature,
    temperature_at_limit,
    voltage_coefficient_at_maximum_power,
)

VOLTS = st.floats(1.0, 100.0)
NEGATIVE = st.floats(-0.006, -0.001)
CELLS = st.floats(-40.0, 90.0)


@given(VOLTS, NEGATIVE, CELLS)
def test_colder_cells_give_more_voltage(volts: float, beta: float, cells: float) -> None:
    assert at_temperature(volts, beta, cells - 1.0, 25.0) > at_temperature(volts, beta, cells, 25.0)


@given(VOLTS, NEGATIVE)
def test_at_standard_temperature_nothing_changes(volts: float, beta: float) -> None:
    assert at_temperature(volts, beta, 25.0, 25.0) == volts
    assert shifted_by_temperature(volts, beta, 25.0, 25.0) == volts


@given(VOLTS, NEGATIVE, CELLS)
def test_relative_and_absolute_coefficients_agree(volts: float, beta: float, cells: float) -> None:
    relative = at_temperature(volts, beta, cells, 25.0)
    absolute = shifted_by_temperature(volts, beta * volts, cells, 25.0)
    assert relative == pytest.approx(absolute)


@given(st.floats(-0.006, -0.002), st.floats(0.0, 0.001))
def test_voltage_falls_faster_than_power(gamma: float, alpha: float) -> None:
    assert voltage_coefficient_at_maximum_power(gamma, alpha) <= gamma


@given(VOLTS, NEGATIVE, st.floats(-40.0, 10.0), st.floats(1.01, 1.4))
def test_the_temperature_of_a_limit_gives_the_limit(
    volts: float, beta: float, cold: float, over: float
) -> None:
    limit = volts * over
    cells = temperature_at_limit(volts, at_temperature(volts, beta, cold, 25.0), cold, limit)
    assert at_temperature(volts, beta, cells, 25.0) == pytest.approx(limit)
