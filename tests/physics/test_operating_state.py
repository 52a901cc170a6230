"""What each element of an array carries: the laws of Kirchhoff, hot spots, fed branches."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import a_quarter_of
from physics.strategies import trees
from wattproof.physics.arrays import current, maximum_power, solve, voltage
from wattproof.physics.elements import (
    Blocking,
    Bypassed,
    Element,
    Parallel,
    Series,
    children,
    module,
)
from wattproof.physics.operating_state import (
    ElementState,
    Path,
    fed_branches_at_open_circuit,
    fed_branches_at_voltage,
    states_at_voltage,
)
from wattproof.physics.single_diode import Diode, open_circuit_voltage

DIODE = Diode(5.9, 1.2e-11, 0.18, 60.0, 0.838)
DIM = Diode(1.2, 1.2e-11, 0.18, 300.0, 0.838)
LIT = module([DIODE, DIODE])
SHADED = module([DIM, DIM])
DIM_HALF = module([Diode(3.1, 1.2e-11, 0.18, 150.0, 0.838)])


def terminals(
    element: Element, path: Path, states: dict[Path, ElementState]
) -> tuple[float, float, float]:
    """Return voltage, current, and the largest disagreement inside, from the states alone."""
    if path in states:
        return states[path].voltage, states[path].current, 0.0
    found = [terminals(c, (*path, k), states) for k, c in enumerate(children(element))]
    worst = max(miss for _, _, miss in found)
    if isinstance(element, Series):
        spread = max(i for _, i, _ in found) - min(i for _, i, _ in found)
        return sum(v for v, _, _ in found), found[0][1], max(worst, spread)
    spread = max(v for v, _, _ in found) - min(v for v, _, _ in found)
    return found[0][0], sum(i for _, i, _ in found), max(worst, spread)


@settings(max_examples=a_quarter_of(60))
@given(trees(), st.floats(-0.2, 1.2))
def test_laws_of_kirchhoff(tree: Element, part: float) -> None:
    solved = solve(tree)
    at = part * voltage(solved, 0.0)
    states = {state.path: state for state in states_at_voltage(solved, at)}
    found_voltage, found_current, spread = terminals(tree, (), states)
    scale = 1.0 + abs(found_current)
    assert found_voltage == pytest.approx(at, abs=1e-3)
    assert spread < 1e-3 * scale
    assert found_current == pytest.approx(current(solved, at), abs=2e-4 * scale)


@settings(max_examples=a_quarter_of(60))
@given(trees())
def test_power_is_conserved_at_open_circuit(tree: Element) -> None:
    """What some parts deliver, others take up; a bypassed element repeats its child."""
    solved = solve(tree)
    at = voltage(solved, 0.0)
    states = states_at_voltage(solved, at)
    inside = {s.path for s in states if isinstance(s.element, Bypassed)}
    outer = [s for s in states if not any(s.path[: len(p)] == p and s.path != p for p in inside)]
    total = sum(s.voltage * s.current for s in outer)
    moved = sum(abs(s.voltage * s.current) for s in outer)
    assert abs(total - at * current(solved, at)) < 1e-4 * moved + 1e-2


def test_shaded_module_is_bypassed_at_the_maximum() -> None:
    string = Series((LIT, LIT, LIT, SHADED))
    point = maximum_power(string)
    states = {s.path: s for s in states_at_voltage(string, point.voltage)}
    dim = states[3, 0]
    assert dim.voltage == pytest.approx(-0.5, abs=1e-4)
    assert dim.bypass_current == pytest.approx(point.current - 1.2, abs=0.02)
    assert dim.dissipation == pytest.approx(0.5 * 1.2, rel=0.05)
    assert states[0, 0].bypass_current == 0.0
    assert states[0, 0].dissipation == 0.0
    assert states[0, 0].current == pytest.approx(point.current, rel=1e-5)


def test_hot_spot_without_bypass_diodes() -> None:
    bare, dim = module([DIODE], None), module([DIM], None)
    string = Series((bare, bare, bare, dim))
    state = next(s for s in states_at_voltage(string, 40.0) if s.path == (3, 0))
    assert state.voltage < -10.0
    assert state.dissipation == pytest.approx(-state.voltage * state.current)
    assert state.dissipation > 20.0


def test_weak_string_is_fed() -> None:
    array = Parallel((Series((LIT,) * 4), Series((LIT,) * 4), Series((LIT,) * 3)))
    (fed,) = fed_branches_at_open_circuit(array)
    assert fed.path == (2,)
    assert fed.reverse_current > 1.0
    open_states = states_at_voltage(array, voltage(array, 0.0))
    taken = [s for s in open_states if s.path[0] == 2]
    assert all(s.current == pytest.approx(-fed.reverse_current, rel=1e-6) for s in taken)
    assert all(s.dissipation > 0.0 for s in taken)
    assert fed_branches_at_voltage(array, maximum_power(array).voltage) == []
    as_small = fed_branches_at_open_circuit(array, smallest=fed.reverse_current)
    assert as_small == []
    assert fed_branches_at_open_circuit(array, math.nextafter(fed.reverse_current, 0.0)) == [fed]
    loaded = fed_branches_at_voltage(array, 4.0 * open_circuit_voltage(DIODE) * 0.95)
    assert loaded[0].reverse_current > fed.reverse_current


def test_blocking_diodes_keep_the_weak_string_from_being_fed() -> None:
    strings = (Series((LIT,) * 4), Series((LIT,) * 4), Series((LIT,) * 3))
    array = Parallel(tuple(Series((string, Blocking(0.5))) for string in strings))
    assert fed_branches_at_open_circuit(array) == []


def test_bypassed_element_reports_its_diode() -> None:
    group = Bypassed(Series((module([DIODE], None), module([DIM], None))), 0.5)
    string = Series((LIT, LIT, group))
    at = voltage(string, 4.0)
    states = {s.path: s for s in states_at_voltage(string, at)}
    held = states[2,]
    assert held.voltage == pytest.approx(-0.5, abs=1e-4)
    inside = states[2, 0, 1, 0]
    assert held.bypass_current == pytest.approx(4.0 - inside.current, rel=1e-3)
    assert inside.voltage < -10.0


def test_deep_nesting_stays_quick_and_consistent() -> None:
    tree: Element = LIT
    for _ in range(12):
        tree = Parallel((Series((tree, SHADED)), LIT))
    states = states_at_voltage(tree, 15.0)
    assert len(states) == 2 + 12 * 4


def test_where_series_and_parallel_alternate_twice_the_parts_add_up_within_rounding() -> None:
    """A branch of two, one shaded, beside another in series with a third; and two branches."""
    branch = Series((LIT, SHADED))
    row: Element = Series((Parallel((branch, LIT)), SHADED))
    side: Element = Parallel((Series((LIT, DIM_HALF)), branch))
    for tree in (row, side):
        solved = solve(tree)
        at = 0.7 * voltage(solved, 0.0)
        states = {state.path: state for state in states_at_voltage(solved, at)}
        found_voltage, found_current, spread = terminals(tree, (), states)
        assert found_voltage == pytest.approx(at, rel=1e-9)
        assert spread < 1e-9 * (1.0 + abs(found_current))


def test_a_bypassed_element_that_delivers_hands_on_its_own_voltage() -> None:
    group = Bypassed(Series((LIT, LIT)), 0.5)
    states = {s.path: s for s in states_at_voltage(Series((group, LIT)), 45.0)}
    inside = [s.voltage for path, s in states.items() if path[:2] == (0, 0)]
    assert states[0,].voltage > 10.0
    assert sum(inside) == pytest.approx(states[0,].voltage, rel=1e-6)
    assert states[0,].bypass_current == pytest.approx(0.0, abs=1e-6)


def test_a_bypassed_pair_side_by_side_shares_what_it_delivers() -> None:
    group = Bypassed(Parallel((LIT, LIT)), 0.5)
    states = {s.path: s for s in states_at_voltage(Series((group, LIT)), 30.0)}
    whole = states[0,]
    assert whole.voltage > 10.0
    inside = [s.current for path, s in states.items() if path[:2] == (0, 0)]
    assert inside == pytest.approx([whole.current / 2.0] * len(inside), rel=1e-6)
