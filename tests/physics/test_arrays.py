"""Arrays of every nesting: laws that any curve obeys, and cases summed exactly by hand."""

import math
import random
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import a_quarter_of
from physics.strategies import diodes, groups, trees
from wattproof.physics import single_diode
from wattproof.physics.arrays import (
    current,
    maxima,
    maximum_power,
    power_of_parts,
    solve,
    voltage,
)
from wattproof.physics.elements import (
    Blocking,
    Bypassed,
    Cells,
    Element,
    Parallel,
    Resistance,
    Series,
    children,
    module,
)
from wattproof.physics.single_diode import Diode, open_circuit_voltage, voltage_at

DIODE = Diode(5.9, 1.2e-11, 0.18, 60.0, 0.838)
DIM = Diode(1.2, 1.2e-11, 0.18, 300.0, 0.838)
LIT = module([DIODE, DIODE])
SHADED = module([DIM, DIM])


@given(diodes(), st.floats(-0.2, 1.15))
def test_one_group_is_exact_within_a_ten_thousandth_ampere(diode: Diode, part: float) -> None:
    cells = Cells(diode, None)
    at = part * open_circuit_voltage(diode)
    exact = single_diode.current_at(diode, at)
    allowed = 5e-6 * (1.0 + diode.photocurrent) + 1.2e-5 * max(0.0, -exact)
    assert current(cells, at) == pytest.approx(exact, abs=allowed)


@given(diodes(), st.floats(0.3, 1.0), st.floats(1.0, 20.0))
def test_bypass_diode_holds_the_voltage(diode: Diode, drop: float, times: float) -> None:
    driven = 1.01 * single_diode.current_at(diode, -drop) + times
    assert voltage(Cells(diode, drop), driven) == pytest.approx(-drop, abs=1e-4)


@given(diodes(), st.floats(5.0, 30.0))
def test_reverse_limit(diode: Diode, limit: float) -> None:
    driven = single_diode.current_at(diode, -limit) + 1.0
    assert voltage(Cells(diode, None, limit), driven) == pytest.approx(-limit, abs=1e-4)


@given(groups(), st.integers(1, 20), st.integers(1, 20), st.floats(-3.0, 0.99))
def test_equal_parts_scale(cells: Cells, series: int, parallel: int, part: float) -> None:
    array = Parallel((Series((cells,) * series),) * parallel)
    one = part * cells.diode.photocurrent
    assert voltage(array, parallel * one) == pytest.approx(
        series * voltage(cells, one), rel=1e-9, abs=1e-9
    )


@given(trees(), st.floats(-30.0, 60.0), st.floats(0.01, 20.0))
def test_current_falls_with_voltage(tree: Element, at: float, more: float) -> None:
    solved = solve(tree)
    assert current(solved, at) > current(solved, at + more)


@given(trees(), st.floats(-50.0, 50.0))
def test_voltage_and_current_are_inverse(tree: Element, driven: float) -> None:
    solved = solve(tree)
    assert current(solved, voltage(solved, driven)) == pytest.approx(driven, rel=1e-6, abs=1e-6)


@given(trees())
def test_table_falls_strictly(tree: Element) -> None:
    table = solve(tree).curve
    for row in (list(table.voltages), [-value for value in table.currents]):
        assert all(a < b for a, b in pairwise(row))


@given(trees())
def test_no_array_gives_more_than_its_parts(tree: Element) -> None:
    assert maximum_power(tree).power <= power_of_parts(tree) * (1.0 + 1e-5) + 1e-9


@settings(max_examples=a_quarter_of(30))
@given(st.lists(groups(), min_size=2, max_size=6), st.randoms(use_true_random=False))
def test_order_of_branches_does_not_matter(parts: list[Cells], order: random.Random) -> None:
    shuffled = list(parts)
    order.shuffle(shuffled)
    for joint in (Series, Parallel):
        one, other = joint(tuple(parts)), joint(tuple(shuffled))
        assert maximum_power(one).power == pytest.approx(maximum_power(other).power, rel=1e-4)


def test_equal_values_share_one_solution() -> None:
    again = module([Diode(5.9, 1.2e-11, 0.18, 60.0, 0.838)] * 2)
    solved = solve(Parallel((Series((LIT, again)), Series((again, LIT)))))
    assert solved.parts[0] is solved.parts[1]
    assert solved.parts[0].parts[0] is solved.parts[0].parts[1]


def test_series_against_an_exact_sum() -> None:
    """Unlike modules in series: voltages of the model itself, summed at one current."""
    string = Series((Cells(DIODE, None), Cells(DIM, None), Resistance(0.1)))
    for step in range(-40, 12):
        at = 0.1 * step
        exact = voltage_at(DIODE, at) + voltage_at(DIM, at) - 0.1 * at
        assert current(string, exact) == pytest.approx(at, abs=1e-4)


def test_parallel_against_an_exact_sum() -> None:
    pair = Parallel((Cells(DIODE, None), Cells(DIM, None)))
    for step in range(250):
        at = 0.1 * step
        exact = single_diode.current_at(DIODE, at) + single_diode.current_at(DIM, at)
        assert current(pair, at) == pytest.approx(exact, abs=1e-4 + 1e-5 * abs(exact))


def test_shade_makes_two_maxima_in_series_and_costs_less_in_parallel() -> None:
    series = Series((LIT, LIT, LIT, SHADED))
    low, high = maxima(series)
    assert low.voltage < 0.8 * high.voltage
    assert maximum_power(series) == max(low, high, key=lambda point: point.power)
    parallel = Parallel((LIT, LIT, LIT, SHADED))
    assert len(maxima(parallel)) == 1
    assert maximum_power(parallel).power > maximum_power(series).power


def test_trade_facts_of_eight_modules() -> None:
    """Four in series, two strings: four times the voltage, twice the current; and so on."""
    one = maximum_power(LIT)
    for tree, volts, amperes in (
        (Parallel((Series((LIT,) * 4),) * 2), 4, 2),
        (Series((Parallel((LIT,) * 4),) * 2), 2, 4),
    ):
        point = maximum_power(tree)
        assert point.voltage == pytest.approx(volts * one.voltage, rel=1e-9)
        assert point.current == pytest.approx(amperes * one.current, rel=1e-9)


def test_blocking_diode() -> None:
    blocked = Series((LIT, Blocking(0.5)))
    assert voltage(blocked, 0.0) == pytest.approx(voltage(LIT, 0.0), abs=1e-6)
    assert voltage(blocked, 3.0) == pytest.approx(voltage(LIT, 3.0) - 0.5, abs=1e-4)
    assert 0.0 > current(blocked, 40.0) > -1e-6


def test_bypass_across_a_module_without_its_own() -> None:
    bare = module([DIODE, DIM], bypass_drop=None)
    held = Bypassed(bare, 0.6)
    assert voltage(held, 10.0) == pytest.approx(-0.6, abs=1e-4)
    assert voltage(held, 1.0) == pytest.approx(voltage(bare, 1.0))


def test_reverse_current_reaches_far() -> None:
    assert voltage(LIT, -500.0) == pytest.approx(voltage_at(DIODE, -500.0), rel=1e-4)
    weak = Parallel((*(Series((LIT,) * 6),) * 5, LIT))
    assert 0.0 < voltage(weak, 0.0) < 6.0 * open_circuit_voltage(DIODE)


def test_darkness() -> None:
    dark = module([Diode(0.0, 1.2e-11, 0.18, math.inf, 0.838)] * 2)
    assert maxima(dark) == []
    assert maximum_power(dark).power == 0.0
    assert voltage(dark, 0.0) == pytest.approx(0.0, abs=1e-6)
    assert current(dark, 26.0) < -0.1


def test_children() -> None:
    assert children(Bypassed(LIT, 0.5)) == (LIT,)
    assert len(children(LIT)) == 2
    assert children(Resistance(0.1)) == ()


def test_bad_elements() -> None:
    for build in (
        lambda: Series(()),
        lambda: Parallel(()),
        lambda: Resistance(-1.0),
        lambda: Resistance(math.inf),
        lambda: Blocking(0.0),
        lambda: Bypassed(LIT, -0.5),
        lambda: Cells(DIODE, 0.0),
        lambda: Cells(DIODE, None, 0.0),
        lambda: module([]),
    ):
        with pytest.raises(ValueError, match=r"at least one|must be|above zero"):
            build()


def test_in_the_dark_there_is_no_power() -> None:
    dark = module([Diode(0.0, 1.2e-11, 0.18, 60.0, 0.838)])
    assert maximum_power(dark) == (0.0, 0.0, 0.0)


def test_tables_go_on_as_far_as_anything_may_drive() -> None:
    """10 kA on 1 µΩ below the drop of a diode, and below what bypass diode or cells let pass."""
    far = 1e4 * 1e-6
    blocking = solve(Blocking(0.5)).curve
    assert blocking.voltages == pytest.approx([-0.5 - far, -0.5, 0.0, 1000.0])
    assert blocking.currents[0] == pytest.approx(1e4, rel=1e-6)
    assert blocking.currents[-1] == pytest.approx(-1e-6, rel=1e-2)
    for bypass, limit, least in ((0.4, math.inf, 0.4), (None, 15.0, 15.0), (0.6, 0.2, 0.2)):
        curve = solve(Cells(DIODE, bypass, limit)).curve
        assert curve.voltages[:2] == pytest.approx([-least - far, -least])
        at_limit = single_diode.current_at(DIODE, -least)
        assert curve.currents[0] == pytest.approx(at_limit + 1e4)
        assert curve.currents[1] == pytest.approx(at_limit)


def test_conductors_in_series_with_a_module_add_up() -> None:
    """1 Ω and 0.5 Ω at 4 A lose 6 V, one without resistance next to nothing."""
    diode = Diode(5.9, 1.2e-11, 0.18, 60.0, 0.838)
    lit = module([diode])
    row = Series((Resistance(1.0), lit, Resistance(0.5)))
    assert voltage(row, 4.0) == pytest.approx(voltage(lit, 4.0) - 6.0, abs=1e-3)
    assert voltage(Resistance(0.0), 4.0) == pytest.approx(0.0, abs=1e-4)


def test_a_conductor_by_itself_loses_what_ohm_says() -> None:
    for ohm in (0.02, 2.0):
        assert voltage(Resistance(ohm), 3.0) == pytest.approx(-3.0 * ohm)
        assert current(Resistance(ohm), 3.0) == pytest.approx(-3.0 / ohm)
