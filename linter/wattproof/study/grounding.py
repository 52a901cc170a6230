"""What ties a pole to the chassis, the water or the earth."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wattproof.circuit import Circuit, Conductor, Terminal
from wattproof.plan.power import Controller
from wattproof.plan.terminals import COMMON, by_name, resolve
from wattproof.plan.wiring import Bond
from wattproof.study.battery_side import BatterySide
from wattproof.study.wires import WireStudy, conductor_size


@dataclass(frozen=True, eq=False)
class Ground:
    """A negative that banks share, and the bonds that tie it to one and the same ground.

    banks: names of the banks. largest: the wire with the most copper on that negative.
    """

    banks: tuple[str, ...]
    bonds: tuple[Bond, ...]
    largest: WireStudy | None


@dataclass(frozen=True, eq=False)
class TiedPole:
    """A negative of a controller with a common positive that is tied past the controller.

    port: "pv" or "load". ground: what it is tied to, empty where the battery's negative itself.
    sure: True where the way leads to the battery's negative as drawn.
    """

    controller: Controller
    port: str
    ground: str
    sure: bool


def grounds(
    battery_side: BatterySide, circuit: Circuit, wires: dict[str, WireStudy]
) -> Iterator[Ground]:
    """Every negative of banks that is bonded; chassis and water count as one ground."""
    found: dict[tuple[Terminal, bool], list[Bond]] = {}
    for bond in circuit.plan.bonds.values():
        found.setdefault((_net_of(bond, circuit), bond.to == "earth"), []).append(bond)
    for (net, _), bonds in found.items():
        banks = tuple(
            name
            for name in battery_side.banks
            if circuit.nets.net(Terminal(name, "", "negative")) == net
        )
        if banks:
            yield Ground(banks, tuple(bonds), _largest_on(net, circuit, wires))


def tied_poles(circuit: Circuit) -> Iterator[TiedPole]:
    """What ties a negative of a controller that has its positive in common."""
    nets = circuit.nets
    for controller in circuit.plan.controllers.values():
        if controller.common != "positive":
            continue
        battery = nets.net(Terminal(controller.name, "battery", "negative"))
        to_battery = _grounds_of(battery, circuit)
        for port in ("pv", "load"):
            own = nets.net(Terminal(controller.name, port, "negative"))
            if own == battery:
                yield TiedPole(controller, port, "", True)
                continue
            tied = _grounds_of(own, circuit)
            if tied:
                shared = [ground for ground in tied if ground in to_battery]
                yield TiedPole(controller, port, (shared or tied)[0], bool(shared))


def _net_of(bond: Bond, circuit: Circuit) -> Terminal:
    reached = resolve(bond.start, by_name(circuit.plan), arriving=False)
    return circuit.nets.net(Terminal(reached.component, reached.port, reached.pole or "negative"))


def _grounds_of(net: Terminal, circuit: Circuit) -> list[str]:
    """What a net is tied to, by a bond or by a wire that ends there."""
    wired = [c for c in COMMON if circuit.nets.net(Terminal(c, "", "negative")) == net]
    bonded = [str(b.to) for b in circuit.plan.bonds.values() if _net_of(b, circuit) == net]
    return list(dict.fromkeys((*wired, *bonded)))


def _largest_on(
    net: Terminal, circuit: Circuit, wires: dict[str, WireStudy]
) -> WireStudy | None:
    names = {
        e.name
        for e in circuit.elements
        if isinstance(e, Conductor) and circuit.nets.net(e.start) == net
    }
    found = [wire for name, wire in wires.items() if name in names]
    return max(found, key=lambda wire: wire.size.area_mm2 * wire.parallel, default=None)


def bond_area(bond: Bond, circuit: Circuit) -> float:
    """Conductor area of a bond (mm²)."""
    return conductor_size(circuit.plan.datasheets.cables[bond.cable]).area_mm2
