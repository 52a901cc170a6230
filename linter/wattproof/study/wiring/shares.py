"""What parts of the currents that are given and drawn pass through something."""

from __future__ import annotations

from wattproof.record import record
from wattproof.study.wiring.ports import Port
from wattproof.working import Value

SNAP = 1e-9
"""Shares nearer than this to each other, to nothing or to all are the same."""


@record
class Share:
    """What part of a port's current passes through something, and which way.

    amount: of each ampere given, from the start to the end; of each drawn with its sign turned.
    even: True where it follows from lengths and from what is alike, whatever the resistances.
    """

    port: Port
    amount: float
    even: bool


def draws(share: Share) -> bool:
    """True for a share of what a consumer draws."""
    return share.port.kind == "draw"


def amps_of(port: Port, rated: bool) -> Value:
    """What a port gives or draws (A); rated: of a controller what it is rated for."""
    return port.rated if rated else port.current


def weight(share: Share, rated: bool) -> float:
    """The current that a share stands for, whichever way (A)."""
    return abs(share.amount) * amps_of(share.port, rated).number


def each_once(shares: list[Share], rated: bool) -> list[Share]:
    """Each source with its largest share only: what leaves by one way cannot leave by another."""
    most: dict[str, Share] = {}
    for share in shares:
        if draws(share):
            continue
        known = most.setdefault(share.port.name, share)
        if weight(share, rated) > weight(known, rated):
            most[share.port.name] = share
    return [s for s in shares if draws(s) or most[s.port.name] is s]
