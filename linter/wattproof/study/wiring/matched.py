"""What sources give to consumers where no bank is beside them: no more than these draw."""

from __future__ import annotations

import math

from wattproof.study.wiring.ports import Flow, at_once
from wattproof.study.wiring.shares import SNAP, Share, amps_of
from wattproof.working import Value, function, smallest, total


def matched(shares: list[Share], sign: float, kind: Flow | None, rated: bool) -> Value | None:
    """The most that sources give to consumers through it where no bank is beside them (A)."""
    gives = [(sign * s.amount, s.port) for s in shares if s.port.kind == "charge"]
    takes = [(-sign * s.amount, s.port) for s in shares if s.port.kind == "draw"]
    if kind == "charge":
        return None
    weighed = [(port.component, amps_of(port, rated).number) for _, port in gives]
    gives = [g for g, counts in zip(gives, at_once(weighed), strict=True) if counts]
    gives.sort(key=lambda pair: -pair[0])
    takes.sort(key=lambda pair: pair[0])
    amps = _transported(
        [(share, amps_of(port, rated).number) for share, port in gives],
        [(share, port.current.number) for share, port in takes],
    )
    if not amps:
        return None
    sides = [
        total([amps_of(p, rated) for s, p in gives if s > takes[0][0]]),
        total([p.current for s, p in takes if s < gives[0][0]]),
    ]
    for side in sides:
        if math.isclose(side.number, amps, rel_tol=SNAP):
            return smallest(sides)
    return function("network", amps, *sides)


def _transported(gives: list[tuple[float, float]], takes: list[tuple[float, float]]) -> float:
    """The largest sum of share differences times currents (A) that sources give to consumers.

    gives: (share, current) with the largest share first; takes: with the smallest first.
    """
    given, taken = [amps for _, amps in gives], [amps for _, amps in takes]
    whole, i, j = 0.0, 0, 0
    while i < len(gives) and j < len(takes) and gives[i][0] > takes[j][0]:
        amps = min(given[i], taken[j])
        whole += amps * (gives[i][0] - takes[j][0])
        given[i] -= amps
        taken[j] -= amps
        if given[i] <= taken[j]:
            i += 1
        else:
            j += 1
    return whole
