"""What ties a pole to the chassis, the water or the earth."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from wattproof.circuit import (
    Array,
    Circuit,
    Conductor,
    Part,
    Passage,
    Source,
    Terminal,
    leaves,
)
from wattproof.circuit.walk import reached
from wattproof.plan.devices import Breaker, Switch
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Controller, is_alternator
from wattproof.plan.terminals import COMMON, POLES, ports
from wattproof.plan.wiring import Bond, Wire
from wattproof.record import record
from wattproof.study.battery.side import BatterySide
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, largest


@record
class Ground:
    """A negative that banks share, and what ties it to one and the same ground.

    banks: names of the banks. wires: those that tie it there without being called a bond, from a
    bank or a busbar. largest: the wire with the most copper on that negative. engines: the tie that
    starter and alternator come back by, nearest to their battery; None where none is there.
    """

    banks: tuple[str, ...]
    bonds: tuple[Bond, ...]
    wires: tuple[Wire, ...]
    largest: WireStudy | None
    engines: Bond | Wire | None = None

    @property
    def ties(self) -> tuple[Bond | Wire, ...]:
        """Bonds and wires together."""
        return (*self.bonds, *self.wires)


@record
class WayToTie:
    """What brings a fault on the body back to a bank whose tie is at another bank or bar.

    tie: the nearest by copper. thinnest: the wire with the least copper on the stoutest way there.
    opens: the largest device that a fault on its positives has to open (A).
    """

    bank: str
    tie: Bond | Wire
    thinnest: WireStudy
    opens: Value


@record
class TiedPole:
    """A negative of a controller with a common positive that is tied past the controller.

    port: "pv" or "load". ground: what it is tied to, empty where the battery's negative itself.
    sure: True where the way leads to the battery's negative as drawn.
    """

    controller: Controller
    port: str
    ground: str
    sure: bool


@record
class TiedPositive:
    """A positive that is tied to a ground, by a bond or a wire.

    on: the battery, or the controller of an array. sure: as the plan says. own: True where the
    array's own negative is tied to the same ground, which shorts it. joined: the poles of array and
    battery that the controller may join inside, where the battery's negative is tied there: joined
    negatives short the array, joined positives the battery.
    """

    on: Battery | Controller
    tie: Bond | Wire
    ground: str
    sure: bool
    own: bool = False
    joined: tuple[str, ...] = ()


def grounds(
    battery_side: BatterySide,
    circuit: Circuit,
    wires: dict[str, WireStudy],
    *,
    as_usual: bool = False,
) -> Iterator[Ground]:
    """Every negative of banks that is tied to ground; chassis and water count as one ground.

    Negatives that meet nowhere but in the ground are two, each with ties of its own. as_usual:
    trackers and vehicle chargers that do not tell join the negatives of array and battery.
    """
    all_ties = [(at, ground == "earth", tie) for at, ground, tie in _tied_terminals(circuit)]
    ties = all_ties
    while ties:
        start, earth, _ = ties[0]
        negative = _apart(start, circuit, as_usual=as_usual)
        same = [tie for terminal, e, tie in ties if terminal in negative and e == earth]
        ties = [each for each in ties if not any(each[2] is tie for tie in same)]
        banks = [b for b in battery_side.banks if Terminal(b, "", "negative") in negative]
        if banks:
            bonds = tuple(tie for tie in same if isinstance(tie, Bond))
            tying = tuple(tie for tie in same if isinstance(tie, Wire))
            tied = {terminal: tie for terminal, _, tie in reversed(all_ties) if tie in same}
            engines = _of_engine(battery_side, circuit, tied)
            largest = _largest_on(negative, circuit, wires)
            yield Ground(tuple(banks), bonds, tying, largest, engines)


def _of_engine(
    battery_side: BatterySide, circuit: Circuit, tied: dict[Terminal, Bond | Wire]
) -> Bond | Wire | None:
    """The tie that is nearest to the battery of a starter, or else of an alternator."""
    alternators = (name for name, c in circuit.plan.chargers.items() if is_alternator(c))
    for name in (*circuit.plan.starters, *alternators):
        for bank in battery_side.fed_by(Terminal(name, "", "positive")):
            posts = [Terminal(part.name, "", "negative") for part in bank.parts]
            for here in circuit.walk(*posts):
                if here in tied:
                    return tied[here]
    return None


def ways_to_ties(
    battery_side: BatterySide,
    circuit: Circuit,
    wires: dict[str, WireStudy],
    devices: Iterable[DeviceStudy],
) -> Iterator[WayToTie]:
    """Every bank with fused positives whose negative reaches its tie over wires of the plan."""
    ties = [(at, tie) for at, ground, tie in _tied_terminals(circuit) if ground != "earth"]
    net = circuit.nets.net
    for name in battery_side.banks if ties else ():
        start, plus = (Terminal(name, "", pole) for pole in ("negative", "positive"))
        guards = [d.rating for d in devices if d.is_overcurrent and _stands_on(d, net(plus), net)]
        found = _stoutest(start, ties, circuit, wires)
        if guards and found is not None:
            thinnest, tie = found
            words = f"largest device that a fault on the positive of {name} opens"
            opens = largest(guards).named(f"In({name})", words, "A")
            yield WayToTie(name, tie, thinnest, opens)


def _stands_on(
    device: DeviceStudy, positive: Terminal, net: Callable[[Terminal], Terminal]
) -> bool:
    return any(p.pole == "positive" and net(p.start) == positive for p in device.passages)


def _stoutest(
    start: Terminal,
    ties: list[tuple[Terminal, Bond | Wire]],
    circuit: Circuit,
    wires: dict[str, WireStudy],
) -> tuple[WireStudy, Bond | Wire] | None:
    """The thinnest wire of the stoutest way to a tie; None where it is tied without, or nowhere."""
    for area in sorted({wire.area_mm2 for wire in wires.values()}, reverse=True):

        def stout(part: Part, least: float = area) -> bool:
            if not {part.start.component, part.end.component}.isdisjoint(COMMON):
                return False
            return isinstance(part, Passage) or wires[part.name].area_mm2 >= least

        walk = circuit.walk(start, passes=stout)
        for at, tie in ties:
            if at in walk:
                names = [part.name for part in walk.passed(at) if isinstance(part, Conductor)]
                passed = [wires[name] for name in names]
                thinnest = min(passed, key=lambda wire: wire.area_mm2, default=None)
                return (thinnest, tie) if thinnest is not None else None
    return None


def tied_positives(circuit: Circuit) -> Iterator[TiedPositive]:
    """Every positive of a battery or an array that is tied to a ground, the first tie of each."""
    nets, seen = circuit.nets, set()
    ties = list(_ties(circuit))
    for battery in circuit.plan.batteries.values():
        plus = nets.net(Terminal(battery.name, "", "positive"))
        for net, ground, tie in ties:
            if net == plus and plus not in seen:
                seen.add(plus)
                yield TiedPositive(battery, tie, ground, True)
    for array in circuit.arrays:
        controller = circuit.plan.controllers.get(array.controller.name)
        if controller is None:
            continue
        joins = _may_join(controller)
        own = _grounds_of(nets.net(Terminal(controller.name, array.port, "negative")), circuit)
        behind = Terminal(controller.name, "battery", "negative")
        shared = _grounds_of(nets.net(behind), circuit) if joins else []
        positive = _positive_of(array, circuit)
        found = [(tie, ground) for net, ground, tie in ties if net in positive]
        shorting = [(tie, ground) for tie, ground in found if ground in (*own, *shared)]
        for tie, ground in (shorting or (found if joins else []))[:1]:
            by_itself, joined = ground in own, joins if ground in shared else ()
            told = controller.common is not None or controller.kind == "pwm"
            sure = by_itself or (bool(joined) and told)
            yield TiedPositive(controller, tie, ground, sure, by_itself, joined)


def _may_join(controller: Controller) -> tuple[str, ...]:
    """The poles of array and battery that a controller may join inside; empty where it is isolated.

    One with pulse-width modulation joins one of the two; what others join if they do not tell is
    the negatives (common practice).
    """
    if controller.isolated:
        return ()
    if controller.common is not None:
        return (str(controller.common),)
    return POLES if controller.kind == "pwm" else ("negative",)


def _positive_of(array: Array, circuit: Circuit) -> set[Terminal]:
    """The nets of an array's positive, without going through chassis, water or earth."""
    joined = reached(
        [Terminal(array.controller.name, array.port, "positive")],
        lambda here: (there for _, there in circuit.ways(here) if there.component not in COMMON),
    )
    sources = [leaf.element for leaf in leaves(array.tree) if isinstance(leaf.element, Source)]
    plugged = {  # straight into a joint, which has their ends then
        Terminal(source.name, "", "positive") for source in sources if source.end in joined
    }
    return {circuit.nets.net(terminal) for terminal in joined | plugged}


def _ties(circuit: Circuit) -> Iterator[tuple[Terminal, str, Bond | Wire]]:
    """Every net that is tied to a ground: its first terminal, the ground, and what ties it."""
    for bond in circuit.plan.bonds.values():
        yield _net_of(bond, circuit), str(bond.to), bond
    for wire in circuit.plan.wires.values():
        for ground in COMMON:
            if ground in (wire.start, wire.to):
                yield _net_at(ground, circuit), ground, wire


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
                continue
            if port == "load":
                yield from _past_the_switch(controller, own, battery, circuit)


def _past_the_switch(
    controller: Controller, own: Terminal, battery: Terminal, circuit: Circuit
) -> Iterator[TiedPole]:
    """Loads on its load positive whose negative leads to the battery's, past its switch."""
    plus = circuit.nets.net(Terminal(controller.name, "load", "positive"))
    for name in circuit.plan.all_loads:
        back = circuit.nets.net(Terminal(name, "", "negative"))
        if circuit.nets.net(Terminal(name, "", "positive")) != plus or back == own:
            continue
        shared = [g for g in _grounds_of(back, circuit) if g in _grounds_of(battery, circuit)]
        if back == battery or shared:
            yield TiedPole(controller, "load", shared[0] if shared else "", True)
            return


def grounded_poles(controller: Controller, circuit: Circuit) -> tuple[str, ...]:
    """The poles of its array that are tied to the chassis, the water or the earth.

    The tie may be at the battery, or at another one that shares its negative, where the negative
    runs through controllers, as it does in trackers and vehicle chargers that do not say otherwise
    (common practice).
    """
    ends = [(pole, Terminal(controller.name, "pv", pole)) for pole in POLES]
    if _joins_negatives(controller, as_usual=True):
        battery = Terminal(controller.name, "battery", "negative")
        ends += [("negative", end) for end in sorted(_apart(battery, circuit, as_usual=True))]
    tied = [pole for pole, end in ends if _grounds_of(circuit.nets.net(end), circuit)]
    return tuple(dict.fromkeys(tied))


def _joins_negatives(controller: Controller, *, as_usual: bool) -> bool:
    """True where the negatives of array, alternator and battery are one inside a controller."""
    usual = "negative" if as_usual and controller.kind != "pwm" else None
    return not controller.isolated and (controller.common or usual) == "negative"


def _apart(start: Terminal, circuit: Circuit, *, as_usual: bool) -> set[Terminal]:
    """What a terminal is joined to without going through chassis, water or earth.

    A controller whose negative is common joins those of array and battery. as_usual: so do those
    that do not tell.
    """

    def onward(here: Terminal) -> Iterator[Terminal]:
        beside = [there for _, there in circuit.ways(here)]
        controller = circuit.plan.controllers.get(here.component)
        if controller is not None and _joins_negatives(controller, as_usual=as_usual):
            beside += [here._replace(port=p) for p in ports(controller) if p != "load"]
        yield from (there for there in beside if there.component not in COMMON)

    return reached([start], onward)


def _net_at(ground: str, circuit: Circuit) -> Terminal:
    return circuit.nets.net(Terminal(ground, "", "negative"))


def _net_of(bond: Bond, circuit: Circuit) -> Terminal:
    return circuit.nets.net(circuit.ends.bonds[bond.name])


def _grounds_of(net: Terminal, circuit: Circuit) -> list[str]:
    """What a net is tied to, by a bond or by a wire that ends there."""
    wired = [c for c in COMMON if _net_at(c, circuit) == net]
    bonded = [str(b.to) for b in circuit.plan.bonds.values() if _net_of(b, circuit) == net]
    return list(dict.fromkeys((*wired, *bonded)))


def _largest_on(
    negative: set[Terminal], circuit: Circuit, wires: dict[str, WireStudy]
) -> WireStudy | None:
    names = {e.name for e in circuit.elements if isinstance(e, Conductor) and e.start in negative}
    found = [wire for name, wire in wires.items() if name in names]
    return max(found, key=lambda wire: wire.area_mm2, default=None)


@record
class TiedSwitch:
    """A switch or breaker in negatives alone, on a side of which the battery stays tied to ground.

    bank: the battery whose negative it opens. behind: consumers, sources and controllers that it
    cuts off. by_itself: True for one that a battery's management or a low voltage opens.
    """

    device: Switch | Breaker
    bank: str
    tie: Bond | Wire
    ground: str
    behind: tuple[Named, ...]
    by_itself: bool


def tied_switches(battery_side: BatterySide, circuit: Circuit) -> Iterator[TiedSwitch]:
    """Every switch that opens a negative which is tied to ground on the battery's own side.

    One between the battery and the tie parts it from everything, and is none of these.
    """
    passages: dict[str, list[Passage]] = {}
    for element in circuit.elements:
        if isinstance(element, Passage) and isinstance(element.device, Switch | Breaker):
            passages.setdefault(element.name, []).append(element)
    ties = list(_tied_terminals(circuit))
    for own in passages.values():
        if {passage.pole for passage in own} != {"negative"}:
            continue
        for passage in own:
            found = _opened(passage, battery_side, circuit, ties)
            if found is not None:
                yield found
                break


def _opened(
    passage: Passage,
    battery_side: BatterySide,
    circuit: Circuit,
    ties: list[tuple[Terminal, str, Bond | Wire]],
) -> TiedSwitch | None:
    def onward(part: Part) -> bool:
        return part is not passage

    def is_ground(terminal: Terminal) -> bool:
        return terminal.component in COMMON

    for battery in battery_side.banks:
        here = circuit.walk(Terminal(battery, "", "negative"), passes=onward)
        ends = [end for end in (passage.start, passage.end) if end not in here]
        if len(ends) != 1:
            continue
        tied = next(((g, tie) for terminal, g, tie in ties if terminal in here), None)
        beyond = circuit.walk(*ends, passes=onward)
        names = dict.fromkeys(terminal.component for terminal in beyond)
        banks = [name for name in names if name in battery_side.banks]
        behind = tuple(part for name in names if (part := _works(circuit, name)) is not None)
        if tied is None or banks or not behind or any(is_ground(t) for t in beyond):
            continue
        device = passage.device
        assert isinstance(device, Switch | Breaker)
        by_itself = isinstance(device, Switch) and (
            device.opened_by is not None or device.opens_below is not None
        )
        return TiedSwitch(device, battery, tied[1], tied[0], behind, by_itself)
    return None


def _works(circuit: Circuit, name: str) -> Named | None:
    """A component that uses or gives current, by its name."""
    plan = circuit.plan
    families = (
        plan.all_loads,
        plan.all_inverters,
        plan.controllers,
        plan.chargers,
        plan.converters,
    )
    return next((family[name] for family in families if name in family), None)


def _tied_terminals(circuit: Circuit) -> Iterator[tuple[Terminal, str, Bond | Wire]]:
    """Every negative terminal that a bond, or a wire from a battery or a bar, ties to a ground."""
    for bond in circuit.plan.bonds.values():
        yield circuit.ends.bonds[bond.name], str(bond.to), bond
    joints = {*circuit.plan.batteries, *circuit.plan.busbars}
    for wire in circuit.plan.wires.values():
        at, to, _ = circuit.ends.of_wire(wire)
        for near, far in ((at, to), (to, at)):
            if far.component in COMMON and near.component in joints:
                yield Terminal(near.component, near.port, "negative"), far.component, wire
