"""How switches between banks stand in use: what is open while each bank carries its own alone.

Banks that are joined share what is drawn by the resistance on the way; parted, one carries all of
it. A relay that closes by voltage is open as soon as nothing charges, a tie is closed by hand when
it is needed, and a selector stands on one bank or the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from collections.abc import Set as AbstractSet
from typing import TypeAlias

from wattproof.circuit import Circuit, Part, Passage, Terminal
from wattproof.plan.devices import Switch
from wattproof.plan.splitting import Selector

Open: TypeAlias = frozenset[Part]
"""Parts that are open at once."""


def partings(
    parts: Iterable[Part],
    circuit: Circuit,
    banks: AbstractSet[Terminal],
    busy: AbstractSet[Terminal],
) -> Iterator[Open]:
    """What is open in each way to stand: each relay or tie alone, all at once, each selector.

    parts: of the battery side. banks, busy: positives of banks, and those at which something gives
    or draws a current.
    """
    switches: dict[str, list[Passage]] = {}
    selectors: dict[str, list[Passage]] = {}
    for part in parts:
        if isinstance(part, Passage) and isinstance(part.device, Switch):
            family = selectors if isinstance(part.device, Selector) else switches
            family.setdefault(part.name, []).append(part)
    plan = circuit.plan
    relays = {n: own for n, own in switches.items() if plan.switches[n].closes_above is not None}
    closed = frozenset(part for own in relays.values() for part in own)
    ties = {
        name: own
        for name, own in switches.items()
        if name not in relays and _is_tie(own, closed, circuit, banks, busy)
    }
    alone = [frozenset(own) for own in (*relays.values(), *ties.values())]
    yield from alone
    if len(alone) > 1:
        yield frozenset().union(*alone)
    for own in selectors.values():
        for side in dict.fromkeys(part.end.port for part in own):
            rest = frozenset(part for part in own if part.end.port != side)
            if rest:
                yield rest


def _is_tie(
    own: list[Passage],
    relays: Open,
    circuit: Circuit,
    banks: AbstractSet[Terminal],
    busy: AbstractSet[Terminal],
) -> bool:
    """True where a switch alone joins two sides that have each a bank, and something on it."""
    away = relays.union(own)

    def side(end: Terminal) -> set[Terminal]:
        return set(circuit.walk(end, passes=lambda part: part not in away))

    positive = [part for part in own if part.pole == "positive"]
    sides = [(side(part.start), side(part.end)) for part in positive]
    return bool(sides) and all(
        one.isdisjoint(other) and all(each & banks and each & busy for each in (one, other))
        for one, other in sides
    )
