"""How switches between banks stand in use: what is open while each bank carries its own alone.

Banks that are joined share what is drawn by the resistance on the way; parted, one carries all of
it. A relay that closes by voltage is open as soon as nothing charges, a tie is closed by hand when
it is needed, and a selector stands on one bank or the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from collections.abc import Set as AbstractSet
from typing import NamedTuple, TypeAlias

from wattproof.circuit import Circuit, Part, Passage, Terminal
from wattproof.plan.devices import Switch
from wattproof.plan.power import Controller
from wattproof.plan.splitting import Selector
from wattproof.plan.terminals import input_port, output_port
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide

Open: TypeAlias = frozenset[Part]
"""Parts that are open at once."""


class Alone(NamedTuple):
    """Banks that stay together where switches part them from all others beside them.

    joined: what they are joined to then, on load terminals of controllers too. selectors: names of
    those that are turned to them. opened: names of relays and ties that are open.
    """

    banks: tuple[BankStudy, ...]
    joined: frozenset[Terminal]
    selectors: tuple[str, ...]
    opened: tuple[str, ...]


def alone(bank: BankStudy, battery_side: BatterySide, *, turned: bool = True) -> Alone | None:
    """A bank with what switches leave on it; None where none parts it from another one.

    Relays by voltage, selectors, and ties between banks that each serve something of their own do;
    a switch of one of several packs does not. turned: False to leave selectors as they join most.
    """
    beside, circuit = battery_side.beside(bank), battery_side.circuit
    if len(beside) < 2:
        return None
    families = _families(circuit.battery_side, circuit, battery_side.posts, *_served(battery_side))
    closed = frozenset(part for own in families.joining.values() for part in own)
    start = Terminal(bank.name, "", "positive")
    joined, selectors = (
        circuit.turned_to(start, closed)
        if turned
        else (frozenset(circuit.walk(start, passes=lambda part: part not in closed)), ())
    )
    left = tuple(b for b in beside if Terminal(b.name, "", "positive") in joined)
    if len(left) == len(beside):
        return None
    opened = (
        name
        for name, own in families.joining.items()
        if any((part.start in joined) != (part.end in joined) for part in own)
    )
    return Alone(left, joined | _behind_controllers(joined, circuit), selectors, tuple(opened))


def ties(battery_side: BatterySide) -> tuple[Switch, ...]:
    """Switches by hand between banks that each serve something of their own, most often open."""
    return tuple(s for s in joining(battery_side) if s.closes_above is None)


def joining(battery_side: BatterySide) -> tuple[Switch, ...]:
    """Those, and every relay by voltage, which is open while nothing charges."""
    circuit, posts = battery_side.circuit, battery_side.posts
    if len(posts) < 2 or not circuit.plan.switches:
        return ()
    families = _families(circuit.battery_side, circuit, posts, *_served(battery_side))
    return tuple(circuit.plan.switches[name] for name in families.joining)


def _behind_controllers(joined: AbstractSet[Terminal], circuit: Circuit) -> frozenset[Terminal]:
    """What hangs on the load terminals of controllers whose batteries are among some terminals."""
    loads = (
        inside.end
        for inside in circuit.insides
        if isinstance(inside.component, Controller) and not inside.converts
        if inside.start in joined and inside.end in circuit.around
    )
    return frozenset(circuit.walk(*loads))


def _served(battery_side: BatterySide) -> tuple[frozenset[Terminal], frozenset[Terminal]]:
    """Positives at which something charges, and at which something draws; starters in both."""
    charging: set[Terminal] = set()
    drawing: set[Terminal] = set()
    for name, component in battery_side.components.items():
        output, draws_at = output_port(component), input_port(component)
        if output is not None:
            charging.add(Terminal(name, output, "positive"))
        if battery_side.drawn(component, draws_at) is not None:
            drawing.add(Terminal(name, draws_at, "positive"))
    starters = {Terminal(name, "", "positive") for name in battery_side.circuit.plan.starters}
    return frozenset(charging | starters), frozenset(drawing | starters)


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
    families = _families(parts, circuit, banks, busy)
    each = [frozenset(own) for own in families.joining.values()]
    yield from each
    if len(each) > 1:
        yield frozenset().union(*each)
    for own in families.selectors.values():
        for side in dict.fromkeys(part.end.port for part in own):
            rest = frozenset(part for part in own if part.end.port != side)
            if rest:
                yield rest


class _Families(NamedTuple):
    """The ways through each switch that joins banks: relays and ties, and selectors."""

    joining: dict[str, list[Passage]]
    selectors: dict[str, list[Passage]]


def _families(
    parts: Iterable[Part],
    circuit: Circuit,
    banks: AbstractSet[Terminal],
    *busy: AbstractSet[Terminal],
) -> _Families:
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
        if name not in relays and _is_tie(own, closed, circuit, banks, *busy)
    }
    return _Families({**relays, **ties}, selectors)


def _is_tie(
    own: list[Passage],
    relays: Open,
    circuit: Circuit,
    banks: AbstractSet[Terminal],
    *busy: AbstractSet[Terminal],
) -> bool:
    """True where a switch alone joins two sides that have each a bank, and some of each busy."""
    away = relays.union(own)

    def side(end: Terminal) -> set[Terminal]:
        return set(circuit.walk(end, passes=lambda part: part not in away))

    positive = [part for part in own if part.pole == "positive"]
    sides = [(side(part.start), side(part.end)) for part in positive]
    return bool(sides) and all(
        one.isdisjoint(other)
        and all(each & some for each in (one, other) for some in (banks, *busy))
        for one, other in sides
    )
