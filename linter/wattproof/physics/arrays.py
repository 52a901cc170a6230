"""One solver for every nesting of series and parallel.

Each distinct element is tabulated once; in series voltages add at one current, in parallel
currents add at one voltage. Bypass diodes, blocking diodes, conductors, unlike modules, shade and
reverse currents need nothing of their own.

Source: J. W. Bishop, "Computer simulation of the effects of electrical mismatches in photovoltaic
cell interconnection circuits", Solar Cells 25 (1988) 73-89, doi 10.1016/0379-6787(88)90059-2.
"""

from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple, TypeAlias

from wattproof.physics import curve as curves
from wattproof.physics.curve import Curve, Maximum
from wattproof.physics.elements import (
    Blocking,
    Bypassed,
    Cells,
    Element,
    Parallel,
    Resistance,
    children,
)
from wattproof.physics.group_curve import CONDUCTING_SLOPE, REACH, group_curve

BLOCKING_CONDUCTANCE = 1e-9  # S, of a blocking diode in reverse
BLOCKING_KNEE = 1e-3  # A, above which a blocking diode has its whole drop
SMALL = 200  # elements of an array of which many solutions are remembered


class Solution(NamedTuple):
    """An element with its curve at the terminals, and its children's.

    parts holds one solution a child, in their order; equal children share one object.
    """

    element: Element
    curve: Curve
    parts: "tuple[Solution, ...]"


Tree: TypeAlias = Element | Solution
"""What the functions take: an element, or its solution where several questions are asked."""


def solve(tree: Element) -> Solution:
    """Return the curve of `tree` and of everything inside, each distinct element solved once.

    The current at a voltage is within 1e-4 A a branch of the exact one for branches up to 15 A.
    The last are remembered by value: readings of a plan, trials and reports ask for the same array
    again, in as many lights as a meter was held to it. Of large arrays they are few, since each
    takes megabytes.
    """
    return _small(tree) if _is_small(tree) else _large(tree)


@lru_cache(maxsize=64)
def _small(tree: Element) -> Solution:
    return _solve(tree, {})


@lru_cache(maxsize=16)
def _large(tree: Element) -> Solution:
    return _solve(tree, {})


def _is_small(tree: Element) -> bool:
    return _elements(tree) <= SMALL


def _elements(tree: Element) -> int:
    return 1 + sum(map(_elements, children(tree)))


def current(tree: Tree, voltage: float) -> float:
    """Return the current (A) that `tree` delivers at `voltage` (V); negative where it is fed."""
    return curves.current_at(_solution(tree).curve, voltage)


def voltage(tree: Tree, current: float) -> float:
    """Return the voltage (V) of `tree` at any `current` (A); at zero, its open circuit."""
    return curves.voltage_at(_solution(tree).curve, current)


def maxima(tree: Tree, prominence: float = 1e-4) -> list[Maximum]:
    """Return all maxima of power, from low voltage to high; the greatest is the global one.

    A maximum counts where the valley beside it is deeper than `prominence` of the greatest power.
    """
    return curves.maxima(_solution(tree).curve, prominence)


def maximum_power(tree: Tree) -> Maximum:
    """Return the global maximum of power; all zero where `tree` delivers none."""
    return max(maxima(tree), key=lambda point: point.power, default=curves.NOTHING)


def power_of_parts(tree: Tree) -> float:
    """Return the sum of the maximum powers (W) of all groups, each on its own.

    What `maximum_power` lacks of it is lost to mismatch, conductors and diodes.
    """
    solved = _solution(tree)
    if isinstance(solved.element, Cells):
        return maximum_power(solved).power
    counts = Counter(id(part) for part in solved.parts)
    distinct = {id(part): part for part in solved.parts}
    return sum(counts[key] * power_of_parts(part) for key, part in distinct.items())


def _solution(tree: Tree) -> Solution:
    """Return `tree` if it is solved already, else its solution."""
    return tree if isinstance(tree, Solution) else solve(tree)


def _solve(element: Element, known: dict[Element, Solution]) -> Solution:
    """Return the solution of `element`, kept in `known` by value."""
    found = known.get(element)
    if found is not None:
        return found
    parts = tuple(_solve(child, known) for child in children(element))
    solved = Solution(element, _curve(element, parts), parts)
    known[element] = solved
    return solved


def _curve(element: Element, parts: tuple[Solution, ...]) -> Curve:
    """Return the curve of `element` from those of its `parts`."""
    if isinstance(element, Cells):
        return _group_curve(element)
    if isinstance(element, Resistance):
        ohm = max(element.ohm, CONDUCTING_SLOPE)
        return Curve([-ohm * REACH, 0.0, ohm * REACH], [REACH, 0.0, -REACH])
    if isinstance(element, Blocking):
        return _blocking_curve(element)
    if isinstance(element, Bypassed):
        return curves.held_above(parts[0].curve, -element.drop, CONDUCTING_SLOPE, REACH)
    if isinstance(element, Parallel):
        return curves.in_parallel(_counted(parts))
    ohms = [part.element.ohm for part in parts if isinstance(part.element, Resistance)]
    others = [part for part in parts if not isinstance(part.element, Resistance)]
    if not others:
        return curves.in_series(_counted(parts))
    return curves.behind_resistance(curves.in_series(_counted(others)), sum(ohms))


def _counted(parts: Sequence[Solution]) -> list[tuple[Curve, int]]:
    """Return the distinct curves among `parts`, each with how many there are of it."""
    counts = Counter(id(part) for part in parts)
    distinct = {id(part): part.curve for part in parts}
    return [(distinct[key], count) for key, count in counts.items()]


@lru_cache(maxsize=512)
def _group_curve(cells: Cells) -> Curve:
    """Return the curve of one group, the last distinct ones remembered by value."""
    return group_curve(cells)


def _blocking_curve(blocking: Blocking) -> Curve:
    """Return the curve of a blocking diode: no drop at no current, its whole drop above 1 mA."""
    drop = blocking.drop
    return Curve(
        [-drop - CONDUCTING_SLOPE * REACH, -drop, 0.0, 1000.0],
        [BLOCKING_KNEE + REACH, BLOCKING_KNEE, 0.0, -1000.0 * BLOCKING_CONDUCTANCE],
    )
