"""Busbars: what passes through each of them.

All that flows in at a bar flows out again, so the most that passes through it is the largest
current of any one of its legs: into the bank, or out of it.
"""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.devices import Busbar
from wattproof.plan.terminals import POLES
from wattproof.record import record
from wattproof.source import Place
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.limits import exceeds_for_sure
from wattproof.study.wiring.network import Network
from wattproof.working import Value, declared, largest


@record
class BusbarStudy:
    """A bar, and the lasting currents of its legs (A), largest first.

    through: the most that passes through it (A). at_least: what some part of it carries in
    whatever order the legs are joined (A): the second leg's current, or half of all of it.
    """

    busbar: Busbar
    legs: tuple[tuple[str, Value], ...]

    @property
    def name(self) -> str:
        """Its name."""
        return str(self.busbar.name)

    @property
    def at(self) -> Place:
        """Where the plan names it."""
        return self.busbar.at

    @property
    def through(self) -> Value:
        """The most that passes through it (A)."""
        words = f"largest lasting current through {self.name}"
        return largest([amps for _, amps in self.legs]).named(f"I({self.name})", words, "A")

    @property
    def is_overloaded(self) -> bool:
        """True where that is told as over its rating, and not only asked for."""
        written = self.busbar.rating
        if written is None:
            return False
        rating = declared(written, f"In({self.name})", f"rating of {self.name}")
        return exceeds_for_sure(self.through, rating)

    @property
    def at_least(self) -> float:
        """What some part of it carries in whatever order its legs are joined (A)."""
        amps = [current.number for _, current in self.legs]
        return max(amps[0] / 2.0, amps[1]) if len(amps) > 1 else amps[0]


def busbars(
    circuit: Circuit, network: Network, arrays: tuple[ArrayStudy, ...]
) -> Iterator[BusbarStudy]:
    """Every bar that some current passes through, by the pole that carries most."""
    for bar in circuit.plan.busbars.values():
        found = [*_on_batteries(bar, circuit, network), *_on_arrays(bar, arrays)]
        if found:
            yield max(found, key=lambda study: study.through.number)


def _on_batteries(bar: Busbar, circuit: Circuit, network: Network) -> Iterator[BusbarStudy]:
    for pole in POLES:
        legs = []
        for element in circuit.around.get(Terminal(bar.name, "", pole), ()):
            amps, brief = network.lasting(element), network.brief(element)
            if amps is not None:
                legs.append((element.name, amps if brief is None else brief.in_contacts(amps)))
        if legs:
            yield BusbarStudy(bar, _sorted(legs))


def _on_arrays(bar: Busbar, arrays: tuple[ArrayStudy, ...]) -> Iterator[BusbarStudy]:
    for array in arrays:
        for joint in array.joints:
            if bar.name in (joint.tree.positive.component, joint.tree.negative.component):
                whole = (joint.name, array.isc("bright", joint.tree))
                legs = [(b.name, array.isc("bright", b.tree)) for b in joint.branches]
                yield BusbarStudy(bar, _sorted([whole, *legs]))


def _sorted(legs: list[tuple[str, Value]]) -> tuple[tuple[str, Value], ...]:
    return tuple(sorted(legs, key=lambda leg: (-leg[1].number, leg[0])))
