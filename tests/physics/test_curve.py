"""Curves as tables: read both ways, joined in series and in parallel, thinned, searched."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from wattproof.physics.curve import (
    BUNDLE,
    Curve,
    Maximum,
    _prominent,
    best_between,
    current_at,
    held_above,
    in_parallel,
    in_series,
    maxima,
    thinned,
    voltage_at,
)

LINE = Curve([0.0, 10.0], [5.0, 0.0])
BENT = Curve([0.0, 8.0, 10.0], [5.0, 4.5, 0.0])


@st.composite
def falling(draw: st.DrawFn) -> Curve:
    steps = st.lists(st.tuples(st.floats(0.01, 5.0), st.floats(0.01, 5.0)), min_size=1, max_size=30)
    voltages, currents = [draw(st.floats(-20.0, 0.0))], [draw(st.floats(0.0, 50.0))]
    for wider, lower in draw(steps):
        voltages.append(voltages[-1] + wider)
        currents.append(currents[-1] - lower)
    return Curve(voltages, currents)


@given(falling(), st.floats(-30.0, 200.0))
def test_read_both_ways(curve: Curve, voltage: float) -> None:
    current = current_at(curve, voltage)
    assert voltage_at(curve, current) == pytest.approx(voltage, abs=1e-6)


@given(falling())
def test_points_are_met_exactly(curve: Curve) -> None:
    for voltage, current in zip(curve.voltages, curve.currents, strict=True):
        assert current_at(curve, voltage) == current
        assert voltage_at(curve, current) == voltage


@given(falling(), falling(), st.floats(-50.0, 50.0))
def test_series_adds_voltages(one: Curve, other: Curve, current: float) -> None:
    both = in_series([(one, 2), (other, 1)])
    assume(both.currents[-1] < current < both.currents[0])
    expected = 2.0 * voltage_at(one, current) + voltage_at(other, current)
    # Thinning moves the current by at most its tolerance.
    near = 1e-5 * (1.0 + abs(current) + abs(current_at(both, 0.0)))
    assert voltage_at(both, current + near) <= expected + 1e-9 * abs(expected) + 1e-9
    assert voltage_at(both, current - near) >= expected - 1e-9 * abs(expected) - 1e-9


@given(falling(), falling(), st.floats(-20.0, 60.0))
def test_parallel_adds_currents(one: Curve, other: Curve, voltage: float) -> None:
    both = in_parallel([(one, 1), (other, 3)])
    assume(both.voltages[0] < voltage < both.voltages[-1])
    expected = current_at(one, voltage) + 3.0 * current_at(other, voltage)
    allowed = 1e-5 * (1.0 + abs(expected) + abs(current_at(both, 0.0)))
    assert current_at(both, voltage) == pytest.approx(expected, abs=allowed)


@pytest.mark.parametrize("count", [BUNDLE + 1, 150])
def test_more_curves_than_are_joined_at_once(count: int) -> None:
    branches = [Curve([0.0, 10.0 + n / 7, 12.0 + n / 5], [5.0, 4.0, -1.0]) for n in range(count)]
    parallel = in_parallel([(each, 2) for each in branches])
    series = in_series([(each, 1) for each in branches])
    for volts in (-3.0, 0.0, 11.0, 13.7, 31.0, 60.0):
        expected = sum(2.0 * current_at(each, volts) for each in branches)
        assert current_at(parallel, volts) == pytest.approx(expected, rel=1e-5, abs=1e-2)
    for amperes in (-2.0, 0.0, 4.0, 4.5, 6.0):
        expected = sum(voltage_at(each, amperes) for each in branches)
        assert voltage_at(series, amperes) == pytest.approx(expected, rel=1e-5)


def test_steep_lines_far_away_leave_no_rounding_in_the_middle() -> None:
    diode = Curve([-0.8 - 1e-2, -0.8, 0.0, 1000.0], [1e4, 1e-3, 0.0, -1e-6])
    string = Curve([-1e-2, 0.0, 20.0, 24.0, 40.0], [1e4, 5.0, 4.7, 0.0, -1e3])
    both = in_series([(diode, 1), (string, 1)])
    for amperes in (0.0, 1e-4, 2.0, 4.69):
        expected = voltage_at(diode, amperes) + voltage_at(string, amperes)
        assert voltage_at(both, amperes) == pytest.approx(expected, abs=1e-4)


@given(falling(), falling())
def test_order_does_not_matter(one: Curve, other: Curve) -> None:
    assert in_series([(one, 1), (other, 1)]) == in_series([(other, 1), (one, 1)])
    assert in_parallel([(one, 1), (other, 1)]) == in_parallel([(other, 1), (one, 1)])


@given(falling(), st.floats(1e-6, 0.1))
def test_thinning_keeps_the_current(curve: Curve, tolerance: float) -> None:
    thin = thinned(curve, tolerance)
    assert len(thin.voltages) <= len(curve.voltages)
    scale = 1.0 + abs(current_at(curve, 0.0))
    for voltage, current in zip(curve.voltages, curve.currents, strict=True):
        allowed = tolerance * (scale + abs(current)) * (1.0 + 1e-9)
        assert abs(current_at(thin, voltage) - current) <= allowed


def test_thinning_drops_points_on_a_line() -> None:
    many = Curve([k / 10.0 for k in range(101)], [5.0 - k / 20.0 for k in range(101)])
    assert len(thinned(many).voltages) == 2


@given(falling(), st.floats(-15.0, -0.1))
def test_held_above(curve: Curve, drop: float) -> None:
    held = held_above(curve, drop, 1e-6, 1e4)
    assert current_at(held, drop) == pytest.approx(current_at(curve, drop))
    assert voltage_at(held, current_at(curve, drop) + 100.0) == pytest.approx(drop, abs=1e-3)
    for voltage in curve.voltages:
        if voltage > drop:
            assert current_at(held, voltage) == pytest.approx(current_at(curve, voltage))


def test_maximum_of_a_line() -> None:
    (top,) = maxima(LINE)
    assert (top.voltage, top.current, top.power) == (5.0, 2.5, 12.5)


def test_two_maxima_and_prominence() -> None:
    steps = Curve([0.0, 5.0, 5.5, 11.0, 11.5], [10.0, 9.9, 4.1, 4.0, 0.0])
    low, high = maxima(steps)
    assert low.power == pytest.approx(5.0 * 9.9)
    assert high.power == pytest.approx(44.0)
    assert len(maxima(steps, prominence=0.6)) == 1


def test_no_power_no_maximum() -> None:
    assert maxima(Curve([-1.0, 0.0, 10.0], [1.0, 0.0, -5.0])) == []


@given(falling(), st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_best_between(curve: Curve, one: float, other: float, part: float) -> None:
    first, last = curve.voltages[0], curve.voltages[-1]
    low, high = sorted(first + share * (last - first) for share in (one, other))
    best = best_between(curve, low, high)
    trial = low + part * (high - low)
    assert low <= best.voltage <= high
    assert best.power >= trial * current_at(curve, trial) - 1e-9 * (1.0 + abs(best.power))
    assert best.current == pytest.approx(current_at(curve, best.voltage), rel=1e-6, abs=1e-9)


def test_a_peak_at_the_first_point_is_a_maximum() -> None:
    """Power never falls to a valley before the peak."""
    (top,) = maxima(BENT)
    assert top.voltage == 8.0


def test_bad_requests() -> None:
    with pytest.raises(ValueError, match="at least one curve"):
        in_series([])
    with pytest.raises(ValueError, match="at least once"):
        in_parallel([(LINE, 0)])
    with pytest.raises(ValueError, match="at least once"):
        in_series([(LINE, 1), (LINE, 0)])
    with pytest.raises(ValueError, match="highest voltage"):
        best_between(LINE, 5.0, 4.0)
    assert best_between(LINE, 5.0, 5.0) == (5.0, 2.5, 12.5)


def test_the_top_of_a_flat_line_is_its_end() -> None:
    """5 A from 0 to 5 V are most at 5 V: 25 W."""
    best = best_between(Curve([0.0, 5.0, 10.0], [5.0, 5.0, 0.0]), 0.0, 5.0)
    assert (best.voltage, best.current, best.power) == (5.0, 5.0, 25.0)


@pytest.mark.parametrize(
    ("volts", "amps"),
    [
        ([0.0, 1.0, 1.0, 2.0], [4.0, 2.5, 1.0, 0.0]),
        ([0.0, 1.0, 2.0, 3.0], [4.0, 2.0, 2.0, 0.0]),
        ([0.0, 1.0, 0.5, 3.0], [4.0, 2.0, 1.0, 0.0]),
    ],
)
def test_points_that_do_not_fall_strictly_go(volts: list[float], amps: list[float]) -> None:
    kept = thinned(Curve(volts, amps))
    assert (kept.voltages[1], kept.currents[1]) == (1.0, amps[1])
    assert len(kept.voltages) == 3


def test_a_rise_counts_from_the_valley_and_a_fall_from_the_peak() -> None:
    """With a depth of 1 W, 5.5 W after 5 W is no peak, and 8 W after 4 W is one."""
    powers = (0.0, 10.0, 9.5, 10.5, 5.0, 5.5, 4.0, 4.9, 8.0, 7.5, 0.0)
    points = [Maximum(float(k), 1.0, watts) for k, watts in enumerate(powers)]
    assert [peak.power for peak in _prominent(points, 1.0)] == [10.5, 8.0]
    for depth, peaks in ((3.9, [10.5, 8.0]), (4.0, [10.5]), (10.5, [])):
        assert [peak.power for peak in _prominent(points, depth)] == peaks


def test_a_table_that_begins_at_open_circuit_begins_there_once() -> None:
    kept = thinned(Curve([1.0, 2.0, 3.0], [0.0, -1.0, -3.0]))
    assert (kept.voltages, kept.currents) == ([1.0, 2.0, 3.0], [0.0, -1.0, -3.0])


def test_where_something_conducts_the_curve_goes_on_as_steep_as_that() -> None:
    """10 kA on 1 µΩ below −0.5 V, from the 5.25 A that the line has there."""
    held = held_above(LINE, -0.5, 1e-6, 1e4)
    assert held.voltages == pytest.approx([-0.5 - 0.01, -0.5, 0.0, 10.0])
    assert held.currents == pytest.approx([1e4 + 5.25, 5.25, 5.0, 0.0])
    assert held_above(LINE, 4.0, 1e-6, 1e4).currents == pytest.approx([1e4 + 3.0, 3.0, 0.0])


def test_a_sum_reaches_as_far_as_the_longest_of_its_parts() -> None:
    one = Curve([-5.0, 10.0], [4.0, -1.0])
    other = Curve([-1.0, 0.0, 30.0], [3.0, 2.0, -2.0])
    both = in_parallel([(one, 1), (other, 1)])
    assert (both.voltages[0], both.voltages[-1]) == (-5.0, 30.0)
    row = in_series([(one, 1), (other, 1)])
    assert (row.currents[0], row.currents[-1]) == (4.0, -2.0)


def test_a_curve_below_a_volt_has_its_maximum_too() -> None:
    """4 A to 0.5 V, then to nothing at 0.6 V: most at the bend, 2 W."""
    [peak] = maxima(Curve([-1.0, 0.5, 0.6], [4.0001, 4.0, 0.0]))
    assert (peak.voltage, peak.power) == (0.5, 2.0)


@pytest.mark.parametrize(("share", "points"), [(1.9e-6, 2), (2.1e-6, 3)])
def test_a_point_goes_that_lies_within_two_millionths_of_the_line(
    share: float, points: int
) -> None:
    """Of 1 A, the 1 A at no voltage, and half an ampere of its own."""
    curve = Curve([0.0, 1.0, 2.0], [1.0, 0.5 + 2.5 * share, 0.0])
    assert len(thinned(curve).voltages) == points
