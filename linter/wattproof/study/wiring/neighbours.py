"""What lies on either side of a conductor or device of the battery side: banks, sources, loads."""

from __future__ import annotations

from bisect import bisect_left
from typing import TypeAlias

from wattproof.circuit import Circuit, Conductor, Passage, Side, Terminal
from wattproof.kept import KeptEach, kept
from wattproof.plan.fields import Named
from wattproof.plan.terminals import output_port
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide

_Places: TypeAlias = list[tuple[int, Named]]


class _Contents:
    """Banks, sources and consumers of a net by their position in the order of its walk."""

    def __init__(self, order: tuple[Terminal, ...], battery_side: BatterySide) -> None:
        self.banks: _Places = []
        self.sources: _Places = []
        self.consumers: _Places = []
        for position, terminal in enumerate(order):
            component = battery_side.components.get(terminal.component)
            if component is None:
                continue
            if terminal.component in battery_side.banks:
                self.banks.append((position, component))
                continue
            if output_port(component) == terminal.port:
                self.sources.append((position, component))
            if battery_side.drawn(component, terminal.port) is not None:
                self.consumers.append((position, component))


class Neighbours:
    """Banks, sources that charge, and consumers on one side of a cut, each once."""

    def __init__(self, side: Side, contents: _Contents, battery_side: BatterySide) -> None:
        self._side = side
        self._contents = contents
        self._battery_side = battery_side

    @kept
    def banks(self) -> tuple[BankStudy, ...]:
        """The banks there."""
        return tuple(self._battery_side.banks[str(b.name)] for b in self._in(self._contents.banks))

    @kept
    def sources(self) -> tuple[Named, ...]:
        """Controllers by their output, and chargers."""
        return self._in(self._contents.sources)

    @kept
    def consumers(self) -> tuple[Named, ...]:
        """What draws a current."""
        return self._in(self._contents.consumers)

    def _in(self, places: _Places) -> tuple[Named, ...]:
        found: dict[str, Named] = {}
        for first, last in self._side.runs:
            start = bisect_left(places, first, key=lambda place: place[0])
            stop = bisect_left(places, last, key=lambda place: place[0])
            found.update((str(component.name), component) for _, component in places[start:stop])
        return tuple(found.values())


class Neighbourhood:
    """The neighbours of every element of the battery side."""

    def __init__(self, circuit: Circuit, battery_side: BatterySide) -> None:
        self.circuit = circuit
        self.battery_side = battery_side
        self._nets: KeptEach[int, _Contents] = KeptEach()

    def of(self, element: Conductor | Passage) -> tuple[Neighbours, Neighbours] | None:
        """Those at its start and at its end; all of them twice in a ring; None on an array."""
        cut = self.circuit.battery_side.get(element)
        if cut is None:
            return None
        return self._on(cut.before), self._on(cut.after)

    def _on(self, side: Side) -> Neighbours:
        order, net = side.order, self.battery_side
        return Neighbours(side, self._nets.of(id(order), lambda: _Contents(order, net)), net)
