"""The single-diode equation is met everywhere, and its limits are sane."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from physics.strategies import diodes
from wattproof.physics.single_diode import (
    Diode,
    current_at,
    current_at_diode_voltage,
    curve,
    maximum_power,
    open_circuit_voltage,
    share,
    short_circuit_current,
    voltage_at,
)


def residual(diode: Diode, voltage: float, current: float) -> float:
    """Return by how much (A) the single-diode equation is missed."""
    across = voltage + current * diode.series_resistance
    return current_at_diode_voltage(diode, across) - current


@given(diodes(), st.floats(-2.0, 1.3))
def test_current_at_meets_the_equation(diode: Diode, part: float) -> None:
    voltage = part * open_circuit_voltage(diode)
    current = current_at(diode, voltage)
    # Rounding of the voltage alone moves the current by its conductance.
    allowed = 1e-9 * (1.0 + abs(current) + diode.photocurrent)
    assert (
        abs(residual(diode, voltage, current))
        < allowed
        + 1e-9
        * math.exp(max(0.0, (voltage - open_circuit_voltage(diode)) / diode.modified_ideality))
        * diode.photocurrent
    )


@given(diodes(), st.floats(-50.0, 0.999))
def test_voltage_and_current_are_inverse(diode: Diode, part: float) -> None:
    current = part * short_circuit_current(diode)
    voltage = voltage_at(diode, current)
    assert current_at(diode, voltage) == pytest.approx(current, rel=1e-7, abs=1e-9)


@given(diodes(), st.floats(1.0, 100.0))
def test_above_the_photocurrent_the_shunt_carries_the_rest(diode: Diode, times: float) -> None:
    current = times * diode.photocurrent + 0.01
    if math.isinf(diode.shunt_resistance):
        with pytest.raises(ValueError, match="shunt"):
            voltage_at(diode, current)
    else:
        voltage = voltage_at(diode, current)
        assert voltage < 0.0
        assert current_at(diode, voltage) == pytest.approx(current, rel=1e-9)


@given(diodes(), st.floats(-1e4, -10.0), st.floats(10.0, 1e4))
def test_extremes_stay_finite(diode: Diode, low: float, high: float) -> None:
    assert math.isfinite(current_at(diode, low))
    assert math.isfinite(current_at(diode, high))
    assert current_at(diode, low) >= current_at(diode, high)
    assert math.isfinite(voltage_at(diode, -1e5))


@given(diodes(), st.floats(-1.0, 1.2), st.floats(-1.0, 1.2))
def test_current_falls_with_voltage(diode: Diode, one: float, other: float) -> None:
    top = open_circuit_voltage(diode)
    low, high = sorted((one * top, other * top))
    assert current_at(diode, low) >= current_at(diode, high) - 1e-12


@given(diodes(), st.integers(2, 300))
def test_curve(diode: Diode, points: int) -> None:
    voltages, currents = curve(diode, points)
    assert len(voltages) == len(currents) == points
    assert voltages[0] == 0.0
    assert currents[-1] == 0.0
    assert voltages[-1] == pytest.approx(open_circuit_voltage(diode), rel=1e-12)
    assert currents[0] == pytest.approx(short_circuit_current(diode), rel=1e-9)
    assert all(a < b for a, b in pairwise(voltages))
    assert all(a >= b for a, b in pairwise(currents))
    for voltage, current in zip(voltages[1:-1], currents[1:-1], strict=True):
        assert residual(diode, voltage, current) == pytest.approx(0.0, abs=1e-9)


@given(diodes(), st.lists(st.floats(0.0, 1.0), min_size=1, max_size=20))
def test_no_point_has_more_than_maximum_power(diode: Diode, parts: list[float]) -> None:
    voltage, current, power = maximum_power(diode)
    assert power == pytest.approx(voltage * current)
    assert 0.0 < voltage < open_circuit_voltage(diode)
    assert 0.0 < current <= short_circuit_current(diode)
    for part in parts:
        other = part * open_circuit_voltage(diode)
        assert other * current_at(diode, other) <= power * (1.0 + 1e-12)


@given(diodes(), st.integers(1, 12), st.floats(-3.0, 0.99))
def test_equal_shares_in_series_are_the_whole(diode: Diode, parts: int, part: float) -> None:
    current = part * short_circuit_current(diode)
    one = voltage_at(share(diode, 1.0 / parts), current)
    assert parts * one == pytest.approx(voltage_at(diode, current), rel=1e-9, abs=1e-9)


@given(diodes(dark=True))
def test_darkness(diode: Diode) -> None:
    assert open_circuit_voltage(diode) == 0.0
    assert short_circuit_current(diode) == 0.0
    assert maximum_power(diode) == (0.0, 0.0, 0.0)
    assert current_at(diode, 1.0) < 0.0
    assert voltage_at(diode, -1.0) > 0.0


@given(diodes())
def test_more_light_gives_more(diode: Diode) -> None:
    brighter = Diode(
        diode.photocurrent * 1.1,
        diode.saturation_current,
        diode.series_resistance,
        diode.shunt_resistance,
        diode.modified_ideality,
    )
    assert open_circuit_voltage(brighter) > open_circuit_voltage(diode)
    assert short_circuit_current(brighter) > short_circuit_current(diode)
    assert maximum_power(brighter)[2] > maximum_power(diode)[2]


@pytest.mark.parametrize(
    "values",
    [
        (-1.0, 1e-9, 0.1, 100.0, 1.0),
        (math.nan, 1e-9, 0.1, 100.0, 1.0),
        (5.0, 0.0, 0.1, 100.0, 1.0),
        (5.0, 1e-9, -0.1, 100.0, 1.0),
        (5.0, 1e-9, 0.1, 0.0, 1.0),
        (5.0, 1e-9, 0.1, math.nan, 1.0),
        (5.0, 1e-9, 0.1, 100.0, 0.0),
    ],
)
def test_impossible_parameters(values: tuple[float, float, float, float, float]) -> None:
    with pytest.raises(ValueError, match="must be"):
        Diode(*values)


def test_bad_requests() -> None:
    diode = Diode(5.0, 1e-9, 0.1, 100.0, 1.0)
    with pytest.raises(ValueError, match="two points"):
        curve(diode, 1)
    with pytest.raises(ValueError, match="fraction"):
        share(diode, 0.0)


@pytest.mark.parametrize("current", [0.0, 2.5, 4.99, 5.0, 5.01])
def test_one_cell_whose_voltages_are_below_a_volt(current: float) -> None:
    cell = Diode(5.0, 1e-10, 0.01, 10.0, 0.026)
    at = voltage_at(cell, current)
    assert -0.2 < at < 0.65
    assert current_at(cell, at) == pytest.approx(current, abs=1e-9)


def test_a_saturation_current_so_small_that_its_ratio_is_no_number() -> None:
    """Voc is a ln(IL / I0): with 5 A over 1e-310 A, ln 5 + 310 ln 10."""
    cells = Diode(5.0, 1e-310, 0.0, math.inf, 1.0)
    assert open_circuit_voltage(cells) == pytest.approx(math.log(5.0) + 310.0 * math.log(10.0))


def test_against_a_diode_without_a_shunt_only_its_saturation_current_flows() -> None:
    """Half of it takes a ln(1 - 1/2)."""
    assert voltage_at(Diode(5.0, 1.0, 0.0, math.inf, 0.8), 5.5) == pytest.approx(
        0.8 * math.log(0.5)
    )


def test_there_is_no_power_without_light_and_some_with_little() -> None:
    for light in (0.0, 1e-3, 1.0):
        found = maximum_power(Diode(light, 1e-10, 0.01, 100.0, 0.026))
        assert (found == (0.0, 0.0, 0.0)) is (light == 0.0)
        assert (found[2] > 0.0) is (light > 0.0)


@pytest.mark.parametrize("part", [-1.0, 0.1, 0.5, 0.999])
def test_without_a_shunt_the_diode_takes_up_to_its_saturation_current(part: float) -> None:
    """Backwards it carries I0 (1 − exp(Vd/a)): of half of I0, Vd is a ln 0.5."""
    diode = Diode(5.0, 1e-6, 0.0, math.inf, 0.5)
    assert voltage_at(diode, 5.0 + part * 1e-6) == pytest.approx(0.5 * math.log(1 - part), rel=1e-5)


def test_below_a_volt_both_ways_agree() -> None:
    """Of one cell, in bright and in dim light."""
    for light in (6.0, 0.06):
        cell = Diode(light, 1e-9, 0.006, 12.0, 0.0265)
        for volts in (0.1, 0.3, 0.5):
            amps = current_at(cell, volts)
            assert voltage_at(cell, amps) == pytest.approx(volts, rel=1e-9)
        assert 0.4 < open_circuit_voltage(cell) < 0.7
        assert current_at(cell, open_circuit_voltage(cell)) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("shunt", [20.0, 60.0, 1e4])
def test_at_maximum_power_a_little_more_voltage_gains_nothing(shunt: float) -> None:
    diode = Diode(5.9, 1.2e-11, 0.18, shunt, 0.838)
    volts, _, power = maximum_power(diode)
    above, below = ((volts + h) * current_at(diode, volts + h) for h in (1e-4, -1e-4))
    assert abs(above - below) / 2e-4 < 1e-6 * power


def test_the_points_of_a_curve_lie_closer_towards_open_circuit() -> None:
    """Half of the way in steps is three quarters of the way in voltage across the diode."""
    diode = Diode(5.9, 1.2e-11, 0.0, 60.0, 0.838)
    voltages, _ = curve(diode, 3)
    assert voltages == pytest.approx([0.0, 0.75 * voltages[-1], open_circuit_voltage(diode)])
