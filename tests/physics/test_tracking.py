"""Where a controller works: window, power and current limits, tied to the battery."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.physics.arrays import current, maximum_power, solve, voltage
from wattproof.physics.curve import Curve
from wattproof.physics.elements import Series, module
from wattproof.physics.single_diode import Diode
from wattproof.physics.tracking import Tracker, tied_point, tracked_point

DIODE = Diode(5.9, 1.2e-11, 0.18, 60.0, 0.838)
DIM = Diode(1.2, 1.2e-11, 0.18, 300.0, 0.838)
LIT = module([DIODE, DIODE])
STRING = Series((LIT,) * 3)
SHADED = Series((LIT, LIT, module([DIM, DIM])))
CURVE = solve(STRING).curve
PEAK = maximum_power(STRING)
OPEN = voltage(STRING, 0.0)
WIDE = Tracker(0.0, 150.0)


def test_wide_open_tracker_finds_the_maximum() -> None:
    point = tracked_point(CURVE, WIDE, 13.0)
    assert (point.voltage, point.current, point.power) == (
        PEAK.voltage,
        PEAK.current,
        PEAK.power,
    )
    assert point.limited_by == "none"
    assert not point.clipped
    assert point.output_current == pytest.approx(PEAK.power / 13.0)
    assert len(point.local_maxima) == 1


def test_local_maxima_are_listed() -> None:
    point = tracked_point(solve(SHADED).curve, WIDE, 13.0)
    assert len(point.local_maxima) == 2
    assert point.power == max(peak.power for peak in point.local_maxima)


@pytest.mark.parametrize(
    ("tracker", "reason"),
    [
        (Tracker(0.0, 150.0, power_limit=150.0), "power"),
        (Tracker(0.0, 150.0, output_current_limit=10.0, efficiency=0.96), "output current"),
    ],
)
def test_clipping_moves_towards_open_circuit(tracker: Tracker, reason: str) -> None:
    point = tracked_point(CURVE, tracker, 13.0)
    assert point.limited_by == reason
    assert point.clipped
    assert point.voltage > PEAK.voltage
    assert point.power <= 150.0 + 1e-9
    assert point.output_current <= 10.0 * 1.2
    assert current(STRING, point.voltage) == pytest.approx(point.current, rel=1e-6)
    if reason == "output current":
        assert point.output_current == pytest.approx(10.0)


def test_clipping_where_the_window_ends_first() -> None:
    tracker = Tracker(0.0, PEAK.voltage + 0.5, power_limit=150.0)
    point = tracked_point(CURVE, tracker, 13.0)
    assert point.voltage < PEAK.voltage
    assert point.power == pytest.approx(150.0)


def test_clipping_that_the_window_does_not_allow() -> None:
    tracker = Tracker(PEAK.voltage - 0.5, PEAK.voltage + 0.5, power_limit=150.0)
    point = tracked_point(CURVE, tracker, 13.0)
    assert point.limited_by == "no operation"
    assert (point.current, point.power, point.output_current) == (0.0, 0.0, 0.0)
    assert point.voltage == pytest.approx(OPEN)
    blocked = tracked_point(CURVE, Tracker(0.0, 20.0, input_current_limit=4.0), 13.0)
    assert (blocked.current, blocked.power, blocked.output_current) == (0.0, 0.0, 0.0)
    assert blocked.voltage == pytest.approx(OPEN)
    above = tracked_point(CURVE, Tracker(OPEN + 1.0, 150.0), 13.0)
    assert (above.current, above.power, above.output_current) == (0.0, 0.0, 0.0)


def test_window_above_and_below_the_maximum() -> None:
    high = tracked_point(CURVE, Tracker(PEAK.voltage + 3.0, 150.0), 13.0)
    assert (high.voltage, high.limited_by) == (PEAK.voltage + 3.0, "window")
    low = tracked_point(CURVE, Tracker(10.0, PEAK.voltage - 3.0), 13.0)
    assert low.voltage == pytest.approx(PEAK.voltage - 3.0)
    assert not low.clipped
    assert low.power < low.available_power


def test_window_above_open_circuit() -> None:
    point = tracked_point(CURVE, Tracker(OPEN + 1.0, 150.0), 13.0)
    assert point.limited_by == "no operation"
    assert point.voltage == pytest.approx(OPEN)
    assert point.output_current == 0.0
    assert point.available_power == PEAK.power


def test_input_current_limit() -> None:
    point = tracked_point(CURVE, Tracker(0.0, 150.0, input_current_limit=4.0), 13.0)
    assert point.current == pytest.approx(4.0, rel=1e-6)
    assert point.voltage > PEAK.voltage
    assert point.limited_by == "input current"
    blocked = Tracker(0.0, 20.0, input_current_limit=4.0)
    assert tracked_point(CURVE, blocked, 13.0).limited_by == "no operation"


@given(
    st.floats(0.0, 70.0),
    st.floats(0.0, 70.0),
    st.floats(5.0, 400.0),
    st.floats(0.5, 10.0),
    st.floats(2.0, 40.0),
    st.floats(10.0, 60.0),
)
def test_limits_hold(
    low: float, width: float, power: float, inward: float, outward: float, battery: float
) -> None:
    tracker = Tracker(low, low + width, power, inward, outward, 0.95)
    point = tracked_point(CURVE, tracker, battery)
    assert point.power <= min(power, PEAK.power) * (1.0 + 1e-9)
    assert point.current <= inward * (1.0 + 1e-9)
    assert point.output_current <= outward * (1.0 + 1e-9)
    if point.limited_by == "no operation":
        assert point.power == 0.0
    else:
        assert low - 1e-9 <= point.voltage <= low + width + 1e-9
        assert point.power == pytest.approx(point.voltage * point.current)


@given(st.floats(1.0, 80.0), st.floats(0.0, 2.0))
def test_tied_to_the_battery(battery: float, drop: float) -> None:
    point = tied_point(CURVE, battery, drop)
    assert point.power <= point.available_power * (1.0 + 1e-9)
    if battery + drop < OPEN:
        assert point.voltage == battery + drop
        assert point.current == current(STRING, battery + drop)
        assert point.battery_power == pytest.approx(battery * point.current)
    else:
        assert point.voltage == pytest.approx(OPEN)
        assert point.current == 0.0


def test_darkness() -> None:
    dark = solve(module([Diode(0.0, 1e-11, 0.18, math.inf, 0.838)])).curve
    point = tracked_point(dark, WIDE, 13.0)
    assert (point.limited_by, point.available_power) == ("no operation", 0.0)
    assert (point.voltage, point.current, point.power, point.output_current) == (0.0,) * 4
    assert tied_point(dark, 13.0, 0.1).power == 0.0


def test_bad_values() -> None:
    with pytest.raises(ValueError, match="window"):
        Tracker(20.0, 10.0)
    with pytest.raises(ValueError, match="limits"):
        Tracker(0.0, 10.0, power_limit=0.0)
    with pytest.raises(ValueError, match="efficiency"):
        Tracker(0.0, 10.0, efficiency=1.1)
    with pytest.raises(ValueError, match="battery"):
        tracked_point(CURVE, WIDE, 0.0)
    with pytest.raises(ValueError, match="battery"):
        tied_point(CURVE, 13.0, -1.0)


def test_where_the_battery_is_above_the_array_nothing_flows() -> None:
    """The array stands at its open circuit; in the dark that is nothing."""
    point = tied_point(CURVE, 200.0, 0.0)
    assert point[:4] == (pytest.approx(OPEN), 0.0, 0.0, 0.0)
    assert point.available_power == pytest.approx(PEAK.power)
    dark = solve(module([Diode(0.0, 1e-11, 0.18, math.inf, 0.838)])).curve
    assert tied_point(dark, 13.0, 0.1) == (0.0,) * 5


def test_a_curve_that_no_light_lifts_stands_at_no_voltage() -> None:
    """By rounding it may end below: nothing is held there."""
    dark = Curve([-2.0, -1.0], [1.0, -1.0])
    assert tracked_point(dark, WIDE, 13.0).voltage == 0.0
    assert tied_point(dark, 13.0, 0.0).voltage == 0.0


def test_a_battery_below_a_volt_is_one_too_and_in_the_dark_nothing_is_to_be_had() -> None:
    point = tracked_point(CURVE, WIDE, 0.5)
    assert point.output_current == pytest.approx(PEAK.power / 0.5)
    dark = Curve([-2.0, -1.0], [1.0, -1.0])
    assert tracked_point(dark, WIDE, 0.5).available_power == 0.0
    assert tied_point(dark, 0.5, 0.0).available_power == 0.0


def test_where_the_window_ends_just_above_a_limit_it_is_met_from_below() -> None:
    """Half a watt more than may be taken is left at the end of the window."""
    end = 0.5 * (PEAK.voltage + OPEN)
    most = end * current(STRING, end) - 0.5
    point = tracked_point(CURVE, Tracker(0.0, end, power_limit=most), 13.0)
    assert point.power == pytest.approx(most)
    assert 0.0 < point.voltage < PEAK.voltage
    at_end = tracked_point(CURVE, Tracker(0.0, end, power_limit=most + 1.0), 13.0)
    assert PEAK.voltage < at_end.voltage < end
