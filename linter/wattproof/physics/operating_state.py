"""What every part of an array carries at one operating point.

Shows which group limits, which bypass diode conducts, where power is turned into heat in shaded
or fed cells, and which branch is fed by the others.
"""

import math
from collections.abc import Callable, Iterator
from typing import NamedTuple, TypeAlias

from wattproof.physics import curve as curves
from wattproof.physics import single_diode
from wattproof.physics.arrays import Solution, Tree, solve
from wattproof.physics.elements import Bypassed, Cells, Element, Parallel, Resistance, Series
from wattproof.physics.roots import bracketed_root, same_sign

_NESTED_SEARCHES = 2

Path: TypeAlias = tuple[int, ...]
"""The way from the root to an element: the index of the child at each step."""


class ElementState(NamedTuple):
    """One element at an operating point.

    voltage (V) and current (A) at its terminals, current positive towards the array's positive
    terminal. bypass_current (A) is the part of it that its own bypass diode carries; zero where
    it does not conduct. dissipation (W) is the power that its cells take up from the others: with
    a positive current, cells driven in reverse (a hot spot); with a negative one, cells fed beyond
    their open-circuit voltage. It is zero where they deliver power, and for conductors and blocking
    diodes what they turn into heat. A bypassed element counts what its child takes up as a whole,
    which its child's own states show again.
    """

    path: Path
    element: Element
    voltage: float
    current: float
    bypass_current: float
    dissipation: float


class FedBranch(NamedTuple):
    """A branch of a parallel joint that is fed by the others: reverse_current (A, positive)."""

    path: Path
    reverse_current: float


def states_at_voltage(tree: Tree, voltage: float) -> list[ElementState]:
    """Return the state of every element but series and parallel, with `voltage` (V) at the
    terminals, in the order in which they are wired.

    Voltages of a series add up to its own, and currents of a parallel to its own: within rounding
    where series and parallel alternate up to twice, else within the error of the curves.
    """
    solved = tree if isinstance(tree, Solution) else solve(tree)
    current = _exact_current(solved, voltage)
    found: list[ElementState] = []
    _visit(solved, (), voltage, current, found, [])
    return found


def states_at_open_circuit(tree: Tree) -> list[ElementState]:
    """Return the state of every element but series and parallel, with nothing connected."""
    solved = tree if isinstance(tree, Solution) else solve(tree)
    return states_at_voltage(solved, _exact_voltage(solved, 0.0))


def fed_branches_at_voltage(tree: Tree, voltage: float, smallest: float = 1e-3) -> list[FedBranch]:
    """Return the branches of every parallel joint that are fed, with `voltage` (V) at the
    terminals: those whose reverse current is above `smallest` (A)."""
    solved = tree if isinstance(tree, Solution) else solve(tree)
    branches: list[tuple[Path, float]] = []
    _visit(solved, (), voltage, _exact_current(solved, voltage), [], branches)
    return [FedBranch(path, -current) for path, current in branches if current < -smallest]


def fed_branches_at_open_circuit(tree: Tree, smallest: float = 1e-3) -> list[FedBranch]:
    """Return the branches that are fed by the others with nothing connected to the array."""
    solved = tree if isinstance(tree, Solution) else solve(tree)
    return fed_branches_at_voltage(solved, _exact_voltage(solved, 0.0), smallest)


def _visit(
    solved: Solution,
    path: Path,
    voltage: float,
    current: float,
    found: list[ElementState],
    branches: list[tuple[Path, float]],
) -> None:
    """Append the states inside `solved` to `found`, and the branches of joints to `branches`."""
    element = solved.element
    known: dict[int, tuple[float, float]] = {}
    if not isinstance(element, Series | Parallel):
        found.append(_state(solved, path, voltage, current))
        if isinstance(element, Bypassed):
            inside = max(voltage, -element.drop)
            part = solved.parts[0]
            carried = current if voltage > -element.drop else curves.current_at(part.curve, inside)
            _visit(part, (*path, 0), inside, carried, found, branches)
        return
    for index, part in enumerate(solved.parts):
        if id(part) not in known:
            if isinstance(element, Series):
                known[id(part)] = _exact_voltage(part, current), current
            else:
                known[id(part)] = voltage, _exact_current(part, voltage)
        part_voltage, part_current = known[id(part)]
        if isinstance(element, Parallel):
            branches.append(((*path, index), part_current))
        _visit(part, (*path, index), part_voltage, part_current, found, branches)


def _state(solved: Solution, path: Path, voltage: float, current: float) -> ElementState:
    """Return the state of one element that is neither series nor parallel."""
    element = solved.element
    carried = current
    if isinstance(element, Cells) and element.bypass_drop is not None:
        if voltage <= -element.bypass_drop:
            carried = single_diode.current_at(element.diode, -element.bypass_drop)
    elif isinstance(element, Bypassed) and voltage <= -element.drop:
        carried = curves.current_at(solved.parts[0].curve, -element.drop)
    bypass_current = current - carried
    return ElementState(
        path, element, voltage, current, bypass_current, max(0.0, -voltage * carried)
    )


def _exact_current(solved: Solution, voltage: float, nested: int = _NESTED_SEARCHES) -> float:
    """Return the current at `voltage` that agrees with the parts' own curves.

    Thinning leaves a joint's curve a trifle off the sum of its parts; this takes the sum. Where
    series and parallel alternate, each change needs a search inside a search: after `nested` of
    them the joint's own curve is taken.
    """
    element = solved.element
    if isinstance(element, Parallel):
        return sum(n * _exact_current(part, voltage, nested) for part, n in _distinct(solved))
    guess = curves.current_at(solved.curve, voltage)
    if isinstance(element, Series) and nested > 0:
        return _near(guess, lambda trial: _exact_voltage(solved, trial, nested - 1) - voltage)
    return guess


def _exact_voltage(solved: Solution, current: float, nested: int = _NESTED_SEARCHES) -> float:
    """Return the voltage at `current` that agrees with the parts' own curves."""
    element = solved.element
    if isinstance(element, Series):
        return sum(n * _exact_voltage(part, current, nested) for part, n in _distinct(solved))
    if isinstance(element, Resistance):
        return -element.ohm * current
    guess = curves.voltage_at(solved.curve, current)
    if isinstance(element, Parallel) and nested > 0:
        return _near(guess, lambda trial: _exact_current(solved, trial, nested - 1) - current)
    return guess


def _near(guess: float, falling: Callable[[float], float]) -> float:
    """Return the zero of a falling function that lies near `guess`.

    The bracket opens on the side of the zero until it holds it.
    """
    at_guess = falling(guess)
    other = guess
    for step in _widening(guess):
        other = guess + math.copysign(step, at_guess)
        if not same_sign(falling(other), at_guess):
            break
    return bracketed_root(falling, guess, other, relative=1e-13, absolute=1e-13)


def _widening(guess: float) -> Iterator[float]:
    """The steps in which a bracket opens around a guess."""
    step = 1e-6 * math.hypot(1.0, guess)
    for _ in range(30):
        yield step
        step *= 4.0


def _distinct(solved: Solution) -> list[tuple[Solution, int]]:
    """Return the distinct parts of `solved`, each with how many there are of it."""
    counts: dict[int, tuple[Solution, int]] = {}
    for part in solved.parts:
        _, count = counts.get(id(part), (part, 0))
        counts[id(part)] = part, count + 1
    return list(counts.values())
