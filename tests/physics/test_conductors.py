"""Properties that the conductor formulas must have: monotonic, symmetric, right at the limits."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.physics.conductors import (
    ConductorSize,
    ambient_factor_law,
    conductor_of_gauge,
    conductor_resistance,
    copper_withstand_constant,
    gauge_area_mm2,
    gauge_diameter_mm,
    known_gauges,
    power_loss,
    resistance_at,
    warming_constant,
    withstand_time,
)

amps = st.floats(0, 1e4)
ohms = st.floats(1e-6, 1e2)
metres = st.floats(0, 1e3)
celsius = st.floats(-60, 200)
close = pytest.approx


class Written:
    """A number that writes down how it was computed, as the study's traced numbers do."""

    def __init__(self, value: float, text: str) -> None:
        self.value, self.text = value, text

    def _with(self, sign: str, value: float, left: str, right: str) -> "Written":
        return Written(value, f"({left} {sign} {right})")

    def __add__(self, other: "Written | float", /) -> "Written":
        it = _written(other)
        return self._with("+", self.value + it.value, self.text, it.text)

    def __radd__(self, other: float, /) -> "Written":
        return _written(other) + self

    def __sub__(self, other: "Written | float", /) -> "Written":
        it = _written(other)
        return self._with("-", self.value - it.value, self.text, it.text)

    def __mul__(self, other: "Written | float", /) -> "Written":
        it = _written(other)
        return self._with("*", self.value * it.value, self.text, it.text)

    def __rmul__(self, other: float, /) -> "Written":
        return _written(other) * self

    def __truediv__(self, other: "Written | float", /) -> "Written":
        it = _written(other)
        return self._with("/", self.value / it.value, self.text, it.text)


def _written(number: "Written | float") -> Written:
    return number if isinstance(number, Written) else Written(number, f"{number:g}")


def test_formulas_work_on_numbers_that_record_their_working() -> None:
    current, per_metre, length = Written(20, "I"), Written(0.003, "r"), Written(5, "L")
    assert conductor_resistance(per_metre, length, 2.0).text == "((r * L) / 2)"
    assert power_loss(current, Written(0.1, "R")).value == close(40)
    hot = resistance_at(per_metre, Written(20, "Tref"), Written(70, "T"), Written(0.00393, "a"))
    assert hot.value == close(0.0035895)


@given(amps, ohms)
def test_loss_does_not_know_direction_and_is_drop_times_current(i: float, r: float) -> None:
    assert power_loss(-i, r) == power_loss(i, r) >= 0
    assert power_loss(i, r) == close(i * (i * r))


@given(ohms, metres, st.integers(1, 8))
def test_parallel_conductors_share(r: float, length: float, n: int) -> None:
    together = conductor_resistance(r, length, float(n))
    assert together * n == close(conductor_resistance(r, length))
    assert together <= conductor_resistance(r, length)


@given(ohms, celsius, celsius, st.floats(0.003, 0.0043))
def test_resistance_rises_with_temperature(r: float, low: float, high: float, a: float) -> None:
    low, high = sorted((low, high))
    assert resistance_at(r, 20.0, low, a) <= resistance_at(r, 20.0, high, a)


@given(ohms, celsius, st.floats(0.003, 0.0043))
def test_resistance_at_its_reference_is_itself(r: float, reference: float, a: float) -> None:
    assert resistance_at(r, reference, reference, a) == r


def test_gauges_grow_from_24_to_500_kcmil() -> None:
    areas = [gauge_area_mm2(gauge) for gauge in known_gauges()]
    assert areas == sorted(areas)
    assert len(set(areas)) == len(areas) == 33


@given(st.integers(7, 24))
def test_six_gauges_are_a_factor_of_two_in_diameter(number: int) -> None:
    ratio = gauge_diameter_mm(str(number - 6)) / gauge_diameter_mm(str(number))
    assert ratio == close(92 ** (6 / 39))
    assert ratio == close(2, rel=0.003)


def test_the_ends_of_the_gauge_law_are_defined_values() -> None:
    assert gauge_diameter_mm("4/0") == close(11.684)  # 0.46 in by definition
    assert gauge_diameter_mm("1/0") == close(0.127 * 92 ** (36 / 39))


@pytest.mark.parametrize("wrong", ["0", "25", "5/0", "-1", "", "10 AWG", "01", "1.5"])
def test_what_is_no_gauge_is_refused(wrong: str) -> None:
    with pytest.raises(ValueError, match="is not a gauge"):
        gauge_area_mm2(wrong)


def test_names_are_those_of_the_trade() -> None:
    assert conductor_of_gauge("10").name == "10 AWG"
    assert conductor_of_gauge("2/0").name == "2/0 AWG"
    assert [ConductorSize(area).name for area in (6.0, 2.5)] == ["6 mm²", "2.5 mm²"]


@given(st.floats(61, 200), celsius, celsius)
def test_ambient_factor_falls_as_it_gets_hotter(limit: float, one: float, other: float) -> None:
    cool, hot = sorted((one, other))
    assert ambient_factor_law(limit, hot, 30) <= ambient_factor_law(limit, cool, 30)


@given(st.floats(61, 200), celsius)
def test_ambient_factor_at_its_ends(limit: float, ambient: float) -> None:
    assert ambient_factor_law(limit, 30, 30) == 1
    assert ambient_factor_law(limit, limit, 30) == 0
    assert (ambient_factor_law(limit, ambient, 30) > 0) == (ambient < limit)


@given(st.floats(61, 199), st.floats(31, 60))
def test_better_insulation_loses_less_to_heat(limit: float, ambient: float) -> None:
    assert ambient_factor_law(limit, ambient, 30) <= ambient_factor_law(limit + 1, ambient, 30)


def test_ambient_that_is_no_number_allows_nothing() -> None:
    assert ambient_factor_law(90, math.nan, 30) == 0
    with pytest.raises(ValueError, match="own ambient"):
        ambient_factor_law(30, 20, 30)


@given(st.floats(0.5, 200), st.floats(1, 1e5), st.floats(50, 150))
def test_withstand_is_a_constant_heat(area: float, current: float, k: float) -> None:
    seconds = withstand_time(area, current, k)
    assert current**2 * seconds == close((k * area) ** 2)
    assert withstand_time(area, 2 * current, k) == close(seconds / 4)
    assert withstand_time(2 * area, current, k) == close(seconds * 4)


def test_withstand_limits() -> None:
    assert withstand_time(6, 0, 115) == math.inf
    assert withstand_time(6, 1, 115) == close(690.0**2)
    for area, current, k in [(0, 1, 115), (6, -1, 115), (6, 1, 0), (math.nan, 1, 115)]:
        with pytest.raises(ValueError, match="positive"):
            withstand_time(area, current, k)


@given(st.floats(0, 150), st.floats(1, 100), st.floats(1, 100))
def test_more_room_to_heat_bears_more(initial: float, room: float, more: float) -> None:
    less = copper_withstand_constant(initial, initial + room)
    assert less < copper_withstand_constant(initial, initial + room + more)
    with pytest.raises(ValueError, match="above"):
        copper_withstand_constant(initial, initial)


def test_what_is_below_one_is_above_nothing_too() -> None:
    """(0.5 × 0.5 / 0.25)² for each of the two."""
    assert withstand_time(0.5, 0.25, 0.5) == 1.0
    assert warming_constant(0.5, 0.25, 0.5) == 1.0


def test_the_constant_of_copper_by_its_formula() -> None:
    """IEC 60364-5-54 Annex A: 225.669 of the heat and resistivity that it names."""
    for initial, final in ((70.0, 160.0), (30.0, 90.0)):
        growth = math.log(1.0 + (final - initial) / (234.5 + initial))
        found = copper_withstand_constant(initial, final)
        assert found == pytest.approx(225.66916 * math.sqrt(growth), rel=1e-6)
