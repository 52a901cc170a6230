"""What a starter motor gets of its battery's voltage, and what its current does on the way."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeAlias

from wattproof.circuit import Circuit, Conductor, Part, Passage, Terminal, is_overcurrent, is_relay
from wattproof.circuit.walk import cheapest
from wattproof.physics.conductors import (
    ALUMINIUM_WITHSTAND,
    copper_withstand_constant,
    withstand_time,
)
from wattproof.plan.devices import Switch
from wattproof.plan.power import is_alternator
from wattproof.plan.splitting import Selector
from wattproof.plan.starting import Starter
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.charging.reach import switch_passages
from wattproof.study.protection.guards import Exit
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.ports import nearest_tie
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared, function, total


@record
class Warmed:
    """A wire that a starter's current heats. lasts: how long (s) until its insulation is as hot as
    it stands, with no heat lost meanwhile."""

    wire: WireStudy
    lasts: Value


@record
class Cranking:
    """A starter motor and a battery that turns it.

    nearest: True for the battery of the least resistance on the way, of several on one selector.
    wires: names of the wires on the way, of both poles.
    current: A. lost: voltage lost in the conductors that the plan draws, both poles where both are
    drawn (V). both_poles: False where the current returns through engine and chassis. warmed: the
    wires on the way whose insulation leaves room for heat, each with how long it bears the current.
    switches, devices: switches, and fuses and breakers, on the way, of both poles.
    """

    starter: Starter
    bank: BankStudy
    current: Value
    lost: Value
    both_poles: bool
    warmed: tuple[Warmed, ...]
    switches: tuple[Switch, ...]
    devices: tuple[Passage, ...]
    nearest: bool
    wires: frozenset[str]


OnlyTie: TypeAlias = Callable[[Terminal, Value], WireStudy | None]
"""The bond that alone ties a post's negative to the body of an engine, for a current (A)."""


def cranking(network: Network, exits: Iterable[Exit], only_tie: OnlyTie) -> Iterator[Cranking]:
    """Every starter that a battery turns, with the battery of the least resistance on the way.

    A selector may lead it to each of its sides, and then the nearest battery of each is told; so is
    one that a switch by hand ties to it. exits: the ways out of banks, with such ties.
    """
    ties = frozenset(str(each.tie.switch.name) for each in exits if each.tie is not None)
    ties |= {str(switch.name) for switch in _between_engines(network.circuit)}
    for name, starter in network.circuit.plan.starters.items():
        plus = Terminal(name, "", "positive")
        found = sorted(
            _turned_by(plus, network),
            key=lambda each: (len({part.name for part in each[1]} & ties), each[0].number),
        )
        told: list[tuple[Part, ...]] = []
        for there, parts, bank in found:
            if all(_by_another_side(parts, nearer, ties) for nearer in told):
                way = (there, parts)
                yield _cranking(starter, bank, way, network, only_tie, nearest=not told)
                told.append(parts)


def _turned_by(plus: Terminal, network: Network) -> list[tuple[Value, tuple[Part, ...], BankStudy]]:
    """Banks on the net of a starter, each with its way there and the resistance of that (Ω).

    A relay by voltage opens when an engine is started: those behind one count where all are.
    """

    def found(passes: Callable[[Part], bool]) -> list[tuple[Value, tuple[Part, ...], BankStudy]]:
        banks = network.battery_side.banks_of(plus)
        ways = [(bank, _way(plus, bank, network, passes)) for bank in banks]
        ohms = [(_resistance(parts, network), parts, bank) for bank, parts in ways]
        return [(there, parts, bank) for there, parts, bank in ohms if there is not None]

    return found(lambda part: not is_relay(part)) or found(lambda _: True)


def _between_engines(circuit: Circuit) -> Iterator[Switch]:
    """Switches by hand with a starter on either side, for one battery to start both engines."""
    for passage in switch_passages(circuit):
        device = passage.device
        if isinstance(device, Switch) and not is_relay(passage):
            one, other = (_starters(end, passage, circuit) for end in (passage.start, passage.end))
            if one and other and one.isdisjoint(other):
                yield device


def _starters(end: Terminal, switch: Passage, circuit: Circuit) -> frozenset[str]:
    """The starters on one side of a switch that no fuse and no relay is before."""
    near = circuit.walk(
        end, passes=lambda p: p is not switch and not is_overcurrent(p) and not is_relay(p)
    )
    return frozenset(t.component for t in near) & set(circuit.plan.starters)


def _by_another_side(one: Sequence[Part], other: Sequence[Part], ties: frozenset[str]) -> bool:
    """True where two ways pass different sides of one selector, or the one a tie beside the other.

    ties: names of switches by hand that tie another bank to an engine.
    """
    if {part.name for part in one} & ties - {part.name for part in other}:
        return True
    sides = [
        {(part.name, part) for part in parts if isinstance(getattr(part, "device", None), Selector)}
        for parts in (one, other)
    ]
    names = [{name for name, _ in passed} for passed in sides]
    return bool(names[0] & names[1]) and sides[0] != sides[1]


def _cranking(
    starter: Starter,
    bank: BankStudy,
    way: tuple[Value, tuple[Part, ...]],
    network: Network,
    only_tie: OnlyTie,
    *,
    nearest: bool,
) -> Cranking:
    """A starter on a battery. way: resistance (Ω) of the way there, and its parts."""
    (there, parts), name = way, starter.name
    back_at = _comes_back_at(starter, bank, network.circuit)
    returns = _way(back_at, bank, network)
    back = _resistance(returns, network)
    current = declared(starter.current, f"Icrank({name})", f"cranking current of {name}")
    words = f"voltage lost between {bank.name} and {name} while it turns"
    whole = there if back is None else there + back
    lost = (current * whole).named(f"ΔU({name})", words, "V")
    passed = (*parts, *returns)
    switches = {
        str(part.name): part.device
        for part in passed
        if isinstance(part, Passage) and isinstance(part.device, Switch)
    }
    through_body = back_at.component not in (name, *network.circuit.plan.chargers)
    alone = only_tie(back_at, current) if through_body else None
    tie = [alone] if alone is not None else []
    opening = {part.name: part for part in passed if is_overcurrent(part)}
    return Cranking(
        starter,
        bank,
        current,
        lost,
        back is not None,
        tuple(_warmed([*_wires(passed, network), *tie], current)),
        tuple(switches.values()),
        tuple(opening.values()),
        nearest,
        frozenset(part.name for part in passed if isinstance(part, Conductor)),
    )


def _comes_back_at(starter: Starter, bank: BankStudy, circuit: Circuit) -> Terminal:
    """Its own negative, or where the body that it returns through is tied to that of a bank.

    An alternator is bolted to the same engine, so that its negative is a tie where nothing else is.
    """
    own = Terminal(starter.name, "", "negative")
    if own in circuit.around:
        return own
    post = own._replace(component=bank.name)
    beside = (
        Terminal(name, "", "negative")
        for name, charger in circuit.plan.chargers.items()
        if is_alternator(charger)
    )
    wired = (at for at in beside if at in circuit.around)
    by_it = (at for at in wired if circuit.nets.net(at) == circuit.nets.net(post))
    return nearest_tie(post, circuit) or next(by_it, own)


def _wires(parts: Sequence[Part], network: Network) -> list[WireStudy]:
    """The wires among some parts, each once."""
    names = dict.fromkeys(part.name for part in parts if isinstance(part, Conductor))
    return [network.wires[name] for name in names]


def _warmed(wires: Iterable[WireStudy], current: Value) -> Iterator[Warmed]:
    for wire in wires:
        air, stands = wire.ambient, wire.insulation
        if air.number >= stands.number:
            continue  # too hot for it already, which is said of its insulation
        k = copper_withstand_constant(air.number, stands.number)
        if wire.sheet.material not in (None, "copper"):
            k *= ALUMINIUM_WITHSTAND
        seconds = withstand_time(wire.area_mm2, current.number, k)
        lasts = function("adiabatic", seconds, current, air, stands)
        words = f"how long {wire.name} bears that, from {air} to {stands}"
        yield Warmed(wire, lasts.named(f"t({wire.name})", words, "s"))


def _way(
    start: Terminal,
    bank: BankStudy,
    network: Network,
    passes: Callable[[Part], bool] = lambda _: True,
) -> tuple[Part, ...]:
    """The parts of the best way from a terminal to a bank's pole; none where there is no way.

    passes: which parts it may lead through.
    """

    def ways(here: Terminal) -> Iterator[tuple[Part, Terminal]]:
        return (way for way in network.circuit.ways(here) if passes(way[0]))

    def cost(part: Part) -> float:
        return _ohms(part, network).number if isinstance(part, Conductor) else 0.0

    end = Terminal(bank.name, "", start.pole)
    return tuple(cheapest(start, end, ways, cost) or ())


def _resistance(parts: Sequence[Part], network: Network) -> Value | None:
    """Cold resistance (Ω) of the conductors among some parts."""
    own = [_ohms(part, network) for part in parts if isinstance(part, Conductor)]
    return total(own) if own else None


def _ohms(part: Conductor, network: Network) -> Value:
    return network.wires[part.name].cold_resistance_over(network.lengths[part])
