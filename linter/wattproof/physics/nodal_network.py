"""Voltages and currents of a network of conductances and pushed currents."""

from collections.abc import Sequence
from typing import NamedTuple

from wattproof.physics.linear_equations import solve_linear


class Branch(NamedTuple):
    """A conductance (S) from one node to another, with a current (A) pushed the same way.

    It carries conductance * (V(start) - V(end)) + pushed, out of `start` into `end`. A conductor
    pushes nothing; an emf E behind a resistance R, from its negative to its positive terminal, is
    the conductance 1 / R that pushes E / R.
    """

    start: str
    end: str
    conductance: float
    pushed: float = 0.0


def node_voltages(branches: Sequence[Branch], grounded: frozenset[str]) -> dict[str, float]:
    """Return the voltage (V) of every node that a branch reaches; `grounded` nodes have none.

    The currents into every other node add up to zero. Raises SingularSystem where a node has no
    way of conductances to a grounded one.

    Source: C.-W. Ho, A. E. Ruehli, P. A. Brennan, "The modified nodal approach to network
    analysis", IEEE Transactions on Circuits and Systems 22 (1975) 504-509,
    doi 10.1109/TCS.1975.1084079.
    """
    reached = {branch.start for branch in branches} | {branch.end for branch in branches}
    free = sorted(reached - grounded)
    place = {node: index for index, node in enumerate(free)}
    matrix = [[0.0] * len(free) for _ in free]
    right = [0.0] * len(free)
    for branch in branches:
        ends = ((branch.start, branch.end, 1.0), (branch.end, branch.start, -1.0))
        for here, there, sign in ends:
            if here not in place:
                continue
            row = place[here]
            matrix[row][row] += branch.conductance
            right[row] -= sign * branch.pushed
            if there in place:
                matrix[row][place[there]] -= branch.conductance
    voltages = dict.fromkeys(sorted(grounded), 0.0)
    voltages.update(zip(free, solve_linear(matrix, right), strict=True))
    return voltages


def branch_current(branch: Branch, voltages: dict[str, float]) -> float:
    """Return the current (A) from the start of a branch to its end."""
    across = voltages[branch.start] - voltages[branch.end]
    return branch.conductance * across + branch.pushed


def current_into(node: str, branches: Sequence[Branch], voltages: dict[str, float]) -> float:
    """Return the sum (A) of what `branches` bring to `node`."""
    total = 0.0
    for branch in branches:
        if branch.end == node:
            total += branch_current(branch, voltages)
        if branch.start == node:
            total -= branch_current(branch, voltages)
    return total
