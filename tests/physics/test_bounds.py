"""Inputs at their very bounds: the last that is taken, and the first that is not."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from wattproof.physics.arrays import solve, voltage
from wattproof.physics.cell_temperature import cell_temperature
from wattproof.physics.conditions import PLAUSIBLE_IDEALITY_DRIFT, at_conditions, module
from wattproof.physics.conductors import (
    ambient_factor_law,
    copper_withstand_constant,
    warming_constant,
    withstand_time,
)
from wattproof.physics.curve import current_at as curve_current
from wattproof.physics.curve import voltage_at as curve_voltage
from wattproof.physics.elements import Blocking, Bypassed, Cells, Resistance, Series
from wattproof.physics.elements import module as cells_of
from wattproof.physics.extraction import CannotFit, Datasheet, fallback, fit
from wattproof.physics.single_diode import Diode, share, voltage_at
from wattproof.physics.tracking import Tracker, tied_point, tracked_point

DIODE = Diode(5.9, 1.2e-11, 0.18, 60.0, 0.838)
LIT = cells_of([DIODE, DIODE])
CURVE = solve(LIT).curve
LABEL = Datasheet(100.0, 5.0, 80.0, 4.6, 160, -0.3, 0.0025, -0.0036)


def diode(**values: float) -> Diode:
    own = {
        "photocurrent": 5.9,
        "saturation_current": 1.2e-11,
        "series_resistance": 0.18,
        "shunt_resistance": 60.0,
        "modified_ideality": 0.838,
    }
    return Diode(**{**own, **values})


TAKEN: list[Callable[[], Any]] = [
    lambda: diode(photocurrent=0.0),
    lambda: diode(series_resistance=0.0),
    lambda: diode(shunt_resistance=math.inf),
    lambda: Resistance(0.0),
    lambda: cell_temperature(20.0, 0.0, "roof-gap", 0.0),
    lambda: Tracker(0.0, 0.0),
    lambda: Tracker(12.0, 12.0, efficiency=1.0),
    lambda: tied_point(CURVE, 12.0, 0.0),
    lambda: withstand_time(1.0, 0.0, 115.0),
    lambda: at_conditions(module(fit(LABEL), LABEL), 25.0, 0.0),
    lambda: fit(LABEL._replace(cells_in_series=1)),
]
REFUSED: dict[str, list[Callable[[], Any]]] = {
    "no voltage drives it": [lambda: voltage_at(Diode(5.0, 1.0, 0.0, math.inf, 0.8), 6.0)],
    "photocurrent must be a finite current, not negative": [
        lambda: diode(photocurrent=math.inf),
        lambda: diode(photocurrent=-1e-12),
    ],
    "saturation current must be a finite current above zero": [
        lambda: diode(saturation_current=0.0),
        lambda: diode(saturation_current=math.inf),
    ],
    "series resistance must be a finite resistance, not negative": [
        lambda: diode(series_resistance=math.inf),
        lambda: diode(series_resistance=-1e-12),
    ],
    "shunt resistance must be above zero": [
        lambda: diode(shunt_resistance=0.0),
    ],
    "modified ideality must be a finite voltage above zero": [
        lambda: diode(modified_ideality=0.0),
        lambda: diode(modified_ideality=math.inf),
    ],
    "the fraction of the cells must be above zero": [
        lambda: share(DIODE, 0.0),
        lambda: share(DIODE, math.inf),
    ],
    "the drop of a bypass diode must be a finite voltage above zero": [
        lambda: Cells(DIODE, bypass_drop=0.0),
        lambda: Cells(DIODE, bypass_drop=math.inf),
        lambda: Bypassed(LIT, 0.0),
        lambda: Bypassed(LIT, math.inf),
    ],
    "the reverse limit must be above zero": [
        lambda: Cells(DIODE, reverse_limit=0.0),
    ],
    "a resistance must be finite and not negative": [
        lambda: Resistance(math.inf),
        lambda: Resistance(-1e-12),
    ],
    "the drop of a blocking diode must be a finite voltage above zero": [
        lambda: Blocking(0.0),
        lambda: Blocking(math.inf),
    ],
    "irradiance must be finite and not negative": [
        lambda: cell_temperature(20.0, math.inf, "roof-gap"),
        lambda: cell_temperature(20.0, -1e-9, "roof-gap"),
        lambda: at_conditions(module(fit(LABEL), LABEL), 25.0, -1e-9),
        lambda: at_conditions(module(fit(LABEL), LABEL), 25.0, math.inf),
    ],
    "wind must be finite and not negative": [
        lambda: cell_temperature(20.0, 800.0, "roof-gap", math.inf),
        lambda: cell_temperature(20.0, 800.0, "roof-gap", -1e-9),
    ],
    "the window must run from a voltage not negative to one not lower": [
        lambda: Tracker(-1e-9, 12.0),
        lambda: Tracker(12.0, 12.0 - 1e-9),
    ],
    "limits must be above zero": [
        lambda: Tracker(0.0, 12.0, power_limit=0.0),
        lambda: Tracker(0.0, 12.0, input_current_limit=0.0),
        lambda: Tracker(0.0, 12.0, output_current_limit=0.0),
    ],
    "the efficiency must be above zero and at most one": [
        lambda: Tracker(0.0, 12.0, efficiency=0.0),
        lambda: Tracker(0.0, 12.0, efficiency=1.0 + 1e-9),
    ],
    "the battery voltage must be finite and above zero": [
        lambda: tracked_point(CURVE, Tracker(0.0, 150.0), 0.0),
        lambda: tracked_point(CURVE, Tracker(0.0, 150.0), math.inf),
    ],
    "the battery voltage must be above zero and the drop not negative": [
        lambda: tied_point(CURVE, 0.0, 0.0),
        lambda: tied_point(CURVE, math.inf, 0.0),
        lambda: tied_point(CURVE, 12.0, -1e-9),
        lambda: tied_point(CURVE, 12.0, math.inf),
    ],
    "a rating's own ambient must be below the conductor's temperature": [
        lambda: ambient_factor_law(90.0, 30.0, 90.0),
    ],
    "area, k and ampacity must be positive": [
        lambda: warming_constant(0.0, 100.0, 115.0),
        lambda: warming_constant(1.0, 0.0, 115.0),
        lambda: warming_constant(1.0, 100.0, 0.0),
    ],
    "area and k must be positive, and the current must not be negative": [
        lambda: withstand_time(0.0, 100.0, 115.0),
        lambda: withstand_time(1.0, 100.0, 0.0),
        lambda: withstand_time(1.0, -1e-9, 115.0),
    ],
    "the final temperature must be above the initial one": [
        lambda: copper_withstand_constant(-234.5, 160.0),
        lambda: copper_withstand_constant(70.0, 70.0),
    ],
}
CONTRADICTIONS = [
    {"imp": LABEL.isc},
    {"vmp": LABEL.voc},
    {"voc": 0.0},
    {"isc": math.inf},
    {"cells_in_series": 0},
    {"voc_coefficient": -2.0},
    {"voc_coefficient": 0.0},
    {"isc_coefficient": 0.1},
    {"isc_coefficient": -0.1},
    {"pmax_coefficient": -0.02},
    {"pmax_coefficient": 0.0},
]


@pytest.mark.parametrize("made", TAKEN, ids=range(len(TAKEN)))
def test_the_last_that_is_taken(made: Callable[[], Any]) -> None:
    made()


@pytest.mark.parametrize("words", REFUSED)
def test_the_first_that_is_refused(words: str) -> None:
    for made in REFUSED[words]:
        with pytest.raises(ValueError, match=words):
            made()


@pytest.mark.parametrize("values", CONTRADICTIONS, ids=str)
def test_labels_that_contradict_themselves(values: dict[str, float]) -> None:
    fit(LABEL)
    with pytest.raises(CannotFit):
        fit(LABEL._replace(**values))  # type: ignore[arg-type]


def test_a_point_on_the_line_from_short_to_open_circuit_is_no_cell() -> None:
    """At half the voltage half the current is a resistor's power; a little more bulges."""
    with pytest.raises(CannotFit, match="straight line"):
        fallback(LABEL._replace(vmp=50.0, imp=2.5))
    assert fallback(LABEL._replace(vmp=50.0, imp=2.6)).confidence == "low"


def test_no_rating_is_left_in_air_as_hot_as_the_conductor() -> None:
    assert ambient_factor_law(90.0, 90.0, 30.0) == 0.0
    assert ambient_factor_law(90.0, 90.0 - 1e-9, 30.0) > 0.0


def test_a_contact_without_resistance_changes_nothing() -> None:
    """And its curve still falls, so that every current has one voltage."""
    curve = solve(Resistance(0.0)).curve
    assert all(a < b for a, b in zip(curve.voltages, curve.voltages[1:], strict=False))
    for amps in (0.0, 2.0, 5.0):
        joined = Series((LIT, Resistance(0.0)))
        assert voltage(joined, amps) == pytest.approx(voltage(LIT, amps), abs=1e-6)


def test_a_drift_at_the_limit_of_what_is_plausible_is_plausible() -> None:
    made = module(fit(LABEL), LABEL)
    at = made._replace(ideality_drift=PLAUSIBLE_IDEALITY_DRIFT)
    beyond = made._replace(ideality_drift=PLAUSIBLE_IDEALITY_DRIFT * (1.0 + 1e-9))
    assert (at.coefficients_agree, beyond.coefficients_agree) == (True, False)
    assert made._replace(ideality_drift=-PLAUSIBLE_IDEALITY_DRIFT).coefficients_agree


def test_what_is_available_is_the_greatest_maximum() -> None:
    dim = cells_of([Diode(1.2, 1.2e-11, 0.18, 300.0, 0.838)] * 2)
    for tree in (Series((LIT, LIT, dim)), Series((LIT, dim, dim))):
        curve = solve(tree).curve
        point = tracked_point(curve, Tracker(0.0, 150.0), 13.0)
        peaks = [peak.power for peak in point.local_maxima]
        assert len(peaks) == 2
        assert max(peaks) > min(peaks) * 1.05
        assert point.available_power == max(peaks)
        assert (point.limited_by, point.power) == ("none", max(peaks))
        assert tied_point(curve, 13.0, 0.0).available_power == max(peaks)


@pytest.mark.parametrize(
    ("resistance", "ideality", "has_curve"),
    [
        (19.9, 0.838, True),
        (20.0, 0.838, False),
        (0.18, 100.0 / 599.0, True),
        (0.18, 100.0 / 600.0, False),
    ],
)
def test_where_coefficients_leave_no_curve(
    resistance: float, ideality: float, has_curve: bool
) -> None:
    """5 A through 20 Ω are all of the 100 V; 100 V over 600 idealities no float can hold."""
    at = Diode(5.0, 1e-9, resistance, math.inf, ideality)
    made = module(fit(LABEL), LABEL)._replace(diode=at, ideality_drift=0.0)
    if has_curve:
        at_conditions(made, 25.0, 1000.0)
    else:
        with pytest.raises(ValueError, match="leave no curve"):
            at_conditions(made, 25.0, 1000.0)


def test_a_limit_of_power_that_is_just_met_limits_nothing() -> None:
    most = tracked_point(CURVE, Tracker(0.0, 150.0), 13.0).power
    for limit, by in ((most, "none"), (math.nextafter(most, 0.0), "power")):
        assert tracked_point(CURVE, Tracker(0.0, 150.0, limit), 13.0).limited_by == by
        output = tracked_point(CURVE, Tracker(0.0, 150.0, output_current_limit=limit / 13.0), 13.0)
        assert output.limited_by == ("none" if by == "none" else "output current")


def test_a_window_that_ends_where_the_input_current_is_met_holds_one_point() -> None:
    at = curve_voltage(CURVE, 3.0)
    point = tracked_point(CURVE, Tracker(0.0, at, input_current_limit=3.0), 13.0)
    assert (point.voltage, point.current) == (at, pytest.approx(3.0))
    beside = tracked_point(CURVE, Tracker(0.0, at - 1e-6, input_current_limit=3.0), 13.0)
    assert beside.limited_by == "no operation"


def test_a_limit_of_power_that_is_met_where_the_window_ends_is_met_there() -> None:
    """And not below the maximum, where the same power is found once more."""
    free = tracked_point(CURVE, Tracker(0.0, 150.0), 13.0)
    end = 0.5 * (free.voltage + curve_voltage(CURVE, 0.0))
    power = end * curve_current(CURVE, end)
    point = tracked_point(CURVE, Tracker(0.0, end, power), 13.0)
    assert (point.voltage, point.power, point.limited_by) == (end, power, "power")


@pytest.mark.parametrize(
    ("watts", "by"), [(25.9, "power"), (26.0, "power"), (26.1, "output current")]
)
def test_of_two_limits_the_lower_is_told_and_power_where_they_are_one(
    watts: float, by: str
) -> None:
    """2 A into 13 V are 26 W."""
    tracker = Tracker(0.0, 150.0, watts, output_current_limit=2.0)
    assert tracked_point(CURVE, tracker, 13.0).limited_by == by


@pytest.mark.parametrize("sun", [1000.0, 500.0, 200.0])
def test_less_light_leaves_a_larger_shunt_and_less_photocurrent(sun: float) -> None:
    """De Soto: the shunt goes with the inverse of the irradiance; the photocurrent with it."""
    made = module(fit(LABEL), LABEL)
    full, dim = (at_conditions(made, 25.0, each) for each in (1000.0, sun))
    assert dim.shunt_resistance == pytest.approx(full.shunt_resistance * 1000.0 / sun)
    assert dim.photocurrent == pytest.approx(full.photocurrent * sun / 1000.0)
