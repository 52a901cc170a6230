"""Wires, devices and joints: what they carry, what they may carry, and what they are tied to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from wattproof.circuit import Circuit, Conductor, Passage, Terminal
from wattproof.codes import Bodies
from wattproof.kept import kept
from wattproof.plan.devices import Switch, Way
from wattproof.plan.power import Controller
from wattproof.plan.terminals import solar_inputs
from wattproof.plan.wiring import Bond, Wire
from wattproof.study.array import ArraySection
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.switching import between_controller_and_banks
from wattproof.study.assumptions import Assumer
from wattproof.study.battery import BatterySection
from wattproof.study.battery.joined import Tap, taps
from wattproof.study.limits import over
from wattproof.study.wiring.arresters import Arrested, arresters
from wattproof.study.wiring.body_returns import BodyReturn, body_returns, bond_returns
from wattproof.study.wiring.brief import heaviest
from wattproof.study.wiring.busbars import BusbarStudy, busbars
from wattproof.study.wiring.by_sun import by_sun
from wattproof.study.wiring.charge_voltages import OnChargeVoltage, on_charge_voltage
from wattproof.study.wiring.closing import (
    HalfJoined,
    HalfWired,
    NotClosed,
    half_joined,
    half_wired,
    not_closed,
)
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.discharging import (
    Discharging,
    Group,
    LoadPort,
    discharging,
    drawn,
    load_ports,
)
from wattproof.study.wiring.drops import Path, array_path, battery_paths
from wattproof.study.wiring.grounding import (
    Ground,
    TiedPole,
    TiedPositive,
    TiedSwitch,
    WayToTie,
    grounded_poles,
    grounds,
    tied_poles,
    tied_positives,
    tied_switches,
    ways_to_ties,
)
from wattproof.study.wiring.loading import Currents, Loading
from wattproof.study.wiring.neighbours import Neighbourhood, Neighbours
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.partings import ties
from wattproof.study.wiring.plugged import PluggedAlike, plugged_alike
from wattproof.study.wiring.ports import bonds_to_engines
from wattproof.study.wiring.sharing import Sharing, sharing
from wattproof.study.wiring.shunts import PastShunt, past_shunts
from wattproof.study.wiring.studs import Stud, studs
from wattproof.study.wiring.terminal_fits import TerminalFit, terminal_fits
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value


class WiringSection:
    """Every conductor and device of both sides."""

    def __init__(
        self,
        circuit: Circuit,
        codes: Bodies,
        assume: Assumer,
        battery: BatterySection,
        array: ArraySection,
    ) -> None:
        self._circuit = circuit
        self._plan = circuit.plan
        self._codes = codes
        self._assume = assume
        self._battery = battery
        self._array = array

    @kept
    def wires(self) -> dict[str, WireStudy]:
        """Every wire by name."""
        return {name: self._carrying(wire) for name, wire in self._bare_wires.items()}

    @kept
    def _bare_wires(self) -> dict[str, WireStudy]:
        """Every wire by name, before it is known what it carries."""
        parts: dict[str, list[Conductor]] = {}
        for element in self._circuit.elements:
            if isinstance(element, Conductor):
                parts.setdefault(element.name, []).append(element)
        return {name: self._bare(conductors) for name, conductors in parts.items()}

    @kept
    def network(self) -> Network:
        """Currents of the battery side, lasting and prospective."""
        side, arrays, past = self._battery.side, self._array.arrays, self._array.past_controllers
        return Network(self._circuit, side, self._bare_wires, arrays, past)

    @kept
    def load_ports(self) -> tuple[LoadPort, ...]:
        """What hangs on the load terminals of controllers."""
        return tuple(load_ports(self.network))

    @kept
    def drawn(self) -> tuple[Group, ...]:
        """What is drawn when everything runs, from banks of known limit or not."""
        return tuple(drawn(self.network, self.load_ports))

    @kept
    def discharging(self) -> tuple[Discharging, ...]:
        """What is drawn from banks when everything runs, where their limit can be told."""
        return tuple(discharging(self.drawn, self.network))

    @kept
    def devices(self) -> dict[str, DeviceStudy]:
        """Every fuse, breaker, switch and panel way by name; ways of panels as `panel.way`."""
        parts: dict[str, list[Passage]] = {}
        for element in self._circuit.elements:
            if isinstance(element, Passage):
                parts.setdefault(_device_key(element), []).append(element)
        return {name: self._device(passages) for name, passages in parts.items()}

    @kept
    def paths(self) -> tuple[Path, ...]:
        """Whole paths of the current with their drop."""
        on_arrays = [array_path(array, self.wires) for array in self._array.arrays]
        on_batteries = battery_paths(self._circuit, self.network, self.wires)
        return (*(path for path in on_arrays if path is not None), *on_batteries)

    @kept
    def sharing(self) -> tuple[Sharing, ...]:
        """How three or more banks in parallel share in what is drawn."""
        return tuple(sharing(self.network, self._battery.joined))

    @kept
    def busbars(self) -> tuple[BusbarStudy, ...]:
        """Every busbar that current passes through."""
        return tuple(busbars(self._circuit, self.network, self._array.arrays))

    @kept
    def on_charge_voltage(self) -> tuple[OnChargeVoltage, ...]:
        """Bars, isolators, loads and cables of batteries that tell what voltage they stand."""
        bars = {bar.name for array in self._array.arrays for bar in array.joined}
        found = on_charge_voltage(self._circuit, self._battery.side, self.wires.values())
        return tuple(each for each in found if each.part.name not in bars)

    @kept
    def arrested(self) -> tuple[Arrested, ...]:
        """Every surge arrester with the voltages of what it lies across."""
        return tuple(arresters(self._circuit, self._battery.side, self._array.array_at))

    @kept
    def terminal_fits(self) -> tuple[TerminalFit, ...]:
        """Wires with the components that tell the largest conductor they take."""
        return tuple(terminal_fits(self.wires.values(), self._circuit.components))

    @kept
    def body_returns(self) -> tuple[BodyReturn, ...]:
        """Lasting currents that go back through the chassis, the water or the earth."""
        around = self.neighbourhood
        by_bonds = bond_returns(self._circuit, self.network, self.bonds_in_use)
        return (*body_returns(self._circuit, around, self.network, self.wires), *by_bonds)

    @kept
    def not_closed(self) -> tuple[NotClosed, ...]:
        """Consumers and sources without a way back, or with one over the body alone."""
        return tuple(not_closed(self._circuit, self._battery.side))

    @kept
    def taps(self) -> tuple[Tap, ...]:
        """What hangs on the joint between banks in series."""
        return tuple(taps(self._battery.side, self._circuit, self.network.exchanged))

    @kept
    def half_joined(self) -> tuple[HalfJoined, ...]:
        """Banks whose positives conductors join, and whose negatives none do."""
        return tuple(half_joined(self._circuit, self._battery.side))

    @kept
    def half_wired(self) -> tuple[HalfWired, ...]:
        """Strings of which one pole leads nowhere."""
        return tuple(half_wired(self._circuit))

    @kept
    def plugged_alike(self) -> tuple[PluggedAlike, ...]:
        """Wires of unlike circuits whose plugs fit each other."""
        return tuple(plugged_alike(self.wires.values(), self.array_of, self._circuit))

    @kept
    def crowded(self) -> tuple[Stud, ...]:
        """Posts and studs with the conductors that end on them."""
        return tuple(studs(self._circuit))

    @kept
    def past_shunts(self) -> tuple[PastShunt, ...]:
        """What the shunts of battery monitors do not count."""
        return tuple(past_shunts(self.network))

    @kept
    def grounds(self) -> tuple[Ground, ...]:
        """Negatives of banks that are bonded."""
        return tuple(grounds(self._battery.side, self._circuit, self.wires))

    @kept
    def tied_switches(self) -> tuple[TiedSwitch, ...]:
        """Switches in negatives alone, on a side of which the battery stays tied to ground."""
        return tuple(tied_switches(self._battery.side, self._circuit))

    @kept
    def ways_to_ties(self) -> tuple[WayToTie, ...]:
        """What brings faults on the body back to banks that are tied at another one."""
        devices = self.devices.values()
        return tuple(ways_to_ties(self._battery.side, self._circuit, self.wires, devices))

    @kept
    def likely_grounds(self) -> tuple[Ground, ...]:
        """The same where trackers that do not tell join the negatives inside, as is usual."""
        side = self._battery.side
        return tuple(grounds(side, self._circuit, self.wires, as_usual=True))

    def grounded_poles(self, array: ArrayStudy) -> tuple[str, ...]:
        """The poles of an array that are tied to the chassis, the water or the earth."""
        return grounded_poles(array.controller, self._circuit)

    @kept
    def tied_positives(self) -> tuple[TiedPositive, ...]:
        """Positives of batteries and arrays that are tied to a ground."""
        return tuple(tied_positives(self._circuit))

    @kept
    def tied_poles(self) -> tuple[TiedPole, ...]:
        """Negatives of controllers with a common positive that are tied past them."""
        return tuple(tied_poles(self._circuit))

    @kept
    def neighbourhood(self) -> Neighbourhood:
        """What lies on either side of what is in the way on the battery side."""
        return Neighbourhood(self._circuit, self._battery.side)

    def neighbours_of(self, element: Conductor | Passage) -> tuple[Neighbours, Neighbours] | None:
        """What lies on either side of a conductor or device of the battery side.

        None for one of an array.
        """
        return self.neighbourhood.of(element)

    def fed_backwards(self, passage: Passage) -> Controller | None:
        """The controller on the line side of an array's device between two wires, else None.

        The sun's current then enters at its load side; in a negative where it is on that side.
        """
        ends = (passage.start, passage.end)
        line, load = (
            self._circuit.walk(end, passes=lambda part: part is not passage)
            for end in (ends if passage.pole == "positive" else ends[::-1])
        )
        for controller in self._plan.controllers.values():
            ports = solar_inputs(controller)
            inputs = [Terminal(controller.name, port, passage.pole) for port in ports]
            if any(i in line for i in inputs) and not any(i in load for i in inputs):
                return controller
        return None

    def battery_switches_of(self, array: ArrayStudy) -> tuple[Passage, ...]:
        """Switches and breakers that part its controller from every bank; empty without."""
        return between_controller_and_banks(array.controller, self._circuit, self.ties)

    @kept
    def ties(self) -> tuple[Switch, ...]:
        """Switches by hand between banks that each serve something of their own."""
        return ties(self._battery.side)

    def array_of(self, wire: WireStudy) -> ArrayStudy | None:
        """The array that a wire belongs to; None for one of the battery side."""
        parts = map(self._array.part_of, wire.conductors)
        return next((found[0] for found in parts if found is not None), None)

    @kept
    def bonds_in_use(self) -> tuple[WireStudy, ...]:
        """Bonds that alone bring back what flows in use, each as the wire that it then is."""
        found = ((bond, self.network.through_bond(bond)) for bond in self._plan.bonds.values())
        return tuple(self._in_use(bond, amps) for bond, amps in found if amps is not None)

    def in_full(self, part: WireStudy | DeviceStudy) -> Value | None:
        """Its lasting current (A) where larger wires leave each source all that it gives."""
        bond = self._plan.bonds.get(part.name)
        parts: Sequence[Passage | Conductor | Bond]
        parts = part.passages if isinstance(part, DeviceStudy) else part.conductors
        parts = parts if bond is None else [bond]
        most = _most(self.network.in_full(each) for each in parts)
        own = part.current
        return own if most is None or (own and not over(most.number, own.number)) else most

    def only_tie(self, post: Terminal, amps: Value) -> WireStudy | None:
        """The bond that alone ties a post's negative to an engine's body, as a wire for amperes.

        None where there is none, or several that share it.
        """
        names = bonds_to_engines(post, self._circuit)
        return self._in_use(self._plan.bonds[names[0]], amps) if len(names) == 1 else None

    def _in_use(self, bond: Bond, amps: Value) -> WireStudy:
        """A bond with a lasting current (A), beside the component that it begins at."""
        begins = self._circuit.ends.bonds[bond.name]
        place = getattr(self._circuit.components.get(begins.component), "place", None)
        length: Any = bond.length  # a bond need not tell it
        wire = Wire.model_construct(
            name=bond.name,
            start=bond.start,
            to=bond.to,
            cable=bond.cable,
            length=length,
            place=(place,) if place is not None else None,
        )
        return WireStudy(
            wire,
            self._plan.datasheets.cables[bond.cable],
            None,
            "battery",
            (),
            Loading(lambda: None, lambda: Currents(amps, amps, self.network.brief(bond))),
            self._plan,
            self._codes.of("battery"),
            self._assume,
        )

    def _bare(self, conductors: list[Conductor]) -> WireStudy:
        wire = conductors[0].wire
        sheet = self._plan.datasheets.cables[wire.cable]
        on_arrays = [found[0] for c in conductors if (found := self._array.part_of(c))]
        side = self._battery.side
        return WireStudy(
            wire,
            sheet,
            None,
            "array" if on_arrays else "battery",
            tuple(conductors),
            Loading(lambda: _most(array.voc("coldest") for array in on_arrays))
            if on_arrays
            else Loading(lambda: side.highest_voltage(conductors[0].start)),
            self._plan,
            self._codes.of("array" if on_arrays else "battery"),
            self._assume,
        )

    @kept
    def _by_sun(self) -> dict[Conductor, Value]:
        return by_sun(self._circuit, self._array.straight_on)

    def _carrying(self, wire: WireStudy) -> WireStudy:
        """The wire with its largest lasting current, and the one at which drop is reckoned."""
        on_arrays = [c for c in wire.conductors if c in self._array.carried]
        array, network = self._array, self.network

        def in_array() -> Currents:
            return Currents(
                _most(array.isc_through(c, "bright") for c in on_arrays),
                _most(array.imp_through(c, "standard") for c in on_arrays),
            )

        def on_banks() -> Currents:
            most = _most([network.lasting(c) for c in wire.conductors])
            sun = _most([self._by_sun.get(c) for c in wire.conductors])
            if sun is not None and (most is None or over(sun.number, most.number)):
                return Currents(sun, most)
            return Currents(most, most, heaviest([network.brief(c) for c in wire.conductors]))

        return wire.carrying_currents(in_array if on_arrays else on_banks)

    def _device(self, passages: list[Passage]) -> DeviceStudy:
        first = passages[0]
        on_array = self._array.part_of(first)
        if on_array is not None:
            array, _ = on_array
            loading = Loading(
                lambda: array.voc("coldest"),
                lambda: Currents(self._array.isc_through(first, "bright")),
            )
            return DeviceStudy(tuple(passages), "array", loading, array, self._assume)
        side, network = self._battery.side, self.network
        banks = side.banks_of(first.start)

        def on_banks() -> Currents:
            most = _most([network.lasting(p) for p in passages])
            return Currents(most, most, heaviest([network.brief(p) for p in passages]))

        return DeviceStudy(
            tuple(passages),
            "battery",
            Loading(lambda: side.highest_voltage(first.start), on_banks),
            None,
            self._assume,
            self._plan.distribution.get(first.end.component),
            banks[0].nominal if banks else None,
        )


def _most(values: Iterable[Value | None]) -> Value | None:
    """The largest of some currents (A) or voltages (V); None where there is none."""
    known = [value for value in values if value is not None]
    return max(known, key=lambda value: value.number, default=None)


def _device_key(passage: Passage) -> str:
    """The name under which a device is known: ways of panels are named by their panel too."""
    if isinstance(passage.device, Way):
        return f"{passage.end.component}.{passage.end.port}"
    return passage.name
