"""Lasting currents that go back through the chassis, the water or the earth."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from typing import Final

from wattproof.circuit import Circuit, Conductor, Part, Terminal, leaves
from wattproof.circuit.walk import Walk
from wattproof.plan.power import is_alternator
from wattproof.plan.terminals import COMMON, input_port, ports
from wattproof.plan.wiring import TRAILER_PLUGS
from wattproof.record import record
from wattproof.study.wiring.neighbours import Neighbourhood, Neighbours
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, total

BODY_CARRIES: Final = 30.0
"""The largest current (A) that a vehicle's body takes back without harm, by common practice."""


@record
class BodyReturn:
    """A wire or bond that brings the current of consumers or an array (A) to a body.

    by_bond: the component that a bond ties, empty for a wire. by_hitch: True where what it brings
    back came over the plug of a trailer, in which no conductor leads back.
    """

    wire: WireStudy
    through: str
    current: Value
    by_bond: str = ""
    by_hitch: bool = False


def bond_returns(
    circuit: Circuit, network: Network, in_use: Iterable[WireStudy]
) -> Iterator[BodyReturn]:
    """Every bond of a bar or consumer that no conductor leads back from to a bank's negative.

    in_use: the bonds that carry a current, as wires.
    """
    posts = {Terminal(name, "", "negative") for name in network.battery_side.banks}
    for wire in in_use:
        bond, tied = circuit.plan.bonds[wire.name], circuit.ends.bonds[wire.name]
        near = Walk([tied], lambda here: (w for w in circuit.ways(here) if not _is_body(w[1])))
        current = network.consumed_through(bond)
        if current is not None and posts.isdisjoint(near):
            yield BodyReturn(wire, str(bond.to), current, tied.component)


def _is_body(terminal: Terminal) -> bool:
    return terminal.component in COMMON


def body_returns(
    circuit: Circuit,
    around: Neighbourhood,
    network: Network,
    wires: dict[str, WireStudy],
) -> Iterator[BodyReturn]:
    """Every such wire, without ties of the battery and without the engine's own circuit.

    Where a bond ties a negative to what a consumer's wire ends at, its current goes back that way.
    """
    in_arrays = {leaf.element for array in circuit.arrays for leaf in leaves(array.tree)}
    is_solved = cache(lambda body: _is_tied(body, circuit, network))
    for wire in wires.values():
        for part in wire.conductors:
            through = _common(part)
            if through and part in in_arrays and wire.current is not None:
                yield BodyReturn(wire, through, wire.current)
                continue
            if through and _brings(part, circuit, around):
                solved = is_solved(through)
                current = network.lasting(part) if solved else _drawn_behind(part, around, network)
                if current is not None:
                    hitch = _by_hitch(part, circuit, around)
                    yield BodyReturn(wire, through, current, by_hitch=hitch)


def _common(part: Conductor) -> str:
    """The chassis, water or earth that a conductor ends at; empty for none."""
    return next((end.component for end in (part.start, part.end) if end.component in COMMON), "")


def _brings(part: Conductor, circuit: Circuit, around: Neighbourhood) -> bool:
    """True where consumers or sources, and no battery, are behind it.

    A wire with a second way back beside it is a mere tie.
    """
    own = _behind(part, around)
    if own is None or circuit.battery_side[part].in_ring:
        return False
    served = (*own.consumers, *own.sources)
    return not own.banks and any(not is_alternator(component) for component in served)


def _by_hitch(part: Conductor, circuit: Circuit, around: Neighbourhood) -> bool:
    """True where what is behind a conductor is fed over a trailer's plug alone, and not back."""
    plugged = [e for e in circuit.elements if isinstance(e, Conductor) and _is_in_plug(e)]
    if not plugged or any(each.pole == "negative" for each in plugged):
        return False
    own = _behind(part, around)
    posts = {Terminal(name, "", "positive") for name in circuit.plan.batteries}
    for component in (*own.consumers, *own.sources) if own is not None else ():
        for port in ports(component):
            start = Terminal(str(component.name), port, "positive")
            near = circuit.walk(start, passes=lambda each: not _is_in_plug(each))
            if posts.isdisjoint(near) and not posts.isdisjoint(circuit.walk(start)):
                return True
    return False


def _is_in_plug(part: Part) -> bool:
    return isinstance(part, Conductor) and part.wire.plug in TRAILER_PLUGS


def _behind(part: Conductor, around: Neighbourhood) -> Neighbours | None:
    """What is on the side of a conductor that is not the body."""
    sides = around.of(part)
    if sides is None:
        return None
    return sides[0] if part.end.component in COMMON else sides[1]


def _is_tied(body: str, circuit: Circuit, network: Network) -> bool:
    """True where a bank is tied to this very body, so that the current through it is solved."""
    if any(bond.to == body for bond in circuit.plan.bonds.values()):
        return True
    near = circuit.walk(Terminal(body, "", "negative"))
    return any(Terminal(name, "", "negative") in near for name in network.battery_side.banks)


def _drawn_behind(part: Conductor, around: Neighbourhood, network: Network) -> Value | None:
    """What the consumers behind a conductor draw (A); None for nothing.

    Of hull and water one is tied to the bank and the consumer led to the other: no conductor of the
    plan joins the two, so that its current is not solved.
    """
    own, side = _behind(part, around), network.battery_side
    drawn = [side.drawn(each, input_port(each)) for each in own.consumers] if own else []
    found = [current for current in drawn if current is not None]
    return total(found) if found else None
