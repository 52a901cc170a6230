"""Wires that are plugged, by what circuit they belong to."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from wattproof.circuit import Circuit
from wattproof.plan.power import is_alternator
from wattproof.plan.wiring import TRAILER_PLUGS
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.wiring.wires import WireStudy


@record
class PluggedAlike:
    """Two wires of unlike circuits whose plugs fit each other.

    circuits: what each belongs to, in words.
    """

    plug: str
    wires: tuple[WireStudy, WireStudy]
    circuits: tuple[str, str]


def plugged_alike(
    wires: Iterable[WireStudy],
    array_of: Callable[[WireStudy], ArrayStudy | None],
    circuit: Circuit,
) -> Iterator[PluggedAlike]:
    """The first wire of each circuit, with that of each other circuit that has the same plug.

    The pins of a trailer's plug a standard gives away, so that like ones belong together.
    """
    first: dict[str, dict[str, WireStudy]] = {}
    for wire in wires:
        plug = wire.wire.plug
        if plug is None or plug in TRAILER_PLUGS:
            continue
        beside = first.setdefault(str(plug), {})
        own = _circuit_of(wire, array_of, circuit)
        if own in beside:
            continue
        for other, there in beside.items():
            yield PluggedAlike(str(plug), (there, wire), (other, own))
        beside[own] = wire


def _circuit_of(
    wire: WireStudy, array_of: Callable[[WireStudy], ArrayStudy | None], circuit: Circuit
) -> str:
    if array_of(wire) is not None:
        return "array"
    at, to, _ = circuit.ends.of_wire(wire.wire)
    for end in (at, to):
        component = circuit.ends.components.get(end.component)
        if is_alternator(component) or end.port == "alternator":
            return "alternator"
    return "battery"
