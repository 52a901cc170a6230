"""What a starter motor gets of its battery's voltage, and what its current does on the way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wattproof.circuit import Conductor, Part, Passage, Terminal, is_overcurrent
from wattproof.circuit.walk import cheapest
from wattproof.physics.conductors import (
    ALUMINIUM_WITHSTAND,
    copper_withstand_constant,
    withstand_time,
)
from wattproof.plan.devices import Switch
from wattproof.plan.splitting import Selector
from wattproof.plan.starting import Starter
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, declared, function, total

FUSE_BEARS = 2.0
"""How many times its rating a fuse bears for some seconds, if its maker says nothing else (common
practice)."""


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


def cranking(network: Network) -> Iterator[Cranking]:
    """Every starter that a battery turns, with the battery of the least resistance on the way.

    A selector may lead it to each of the batteries on its sides, and then each is told.
    """
    side = network.battery_side
    for name, starter in network.circuit.plan.starters.items():
        plus = Terminal(name, "", "positive")
        found = [
            (ohms, parts, bank)
            for bank in side.banks_of(plus)
            if (ohms := _resistance(parts := _way(plus, bank, network), network)) is not None
        ]
        if not found:
            continue
        found.sort(key=lambda each: each[0].number)
        (_, first, _), *_ = found
        for there, parts, bank in found:
            if parts is first or _by_another_side(parts, first):
                yield _cranking(starter, bank, there, parts, network, nearest=parts is first)


def _by_another_side(one: Sequence[Part], other: Sequence[Part]) -> bool:
    """True where two ways pass different sides of one selector."""
    sides = [
        {(part.name, part) for part in parts if isinstance(getattr(part, "device", None), Selector)}
        for parts in (one, other)
    ]
    names = [{name for name, _ in passed} for passed in sides]
    return bool(names[0] & names[1]) and sides[0] != sides[1]


def _cranking(
    starter: Starter,
    bank: BankStudy,
    there: Value,
    parts: tuple[Part, ...],
    network: Network,
    *,
    nearest: bool,
) -> Cranking:
    """A starter on a battery. there: resistance (Ω) of the way there, and its parts."""
    name = starter.name
    returns = _way(Terminal(name, "", "negative"), bank, network)
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
    opening = {part.name: part for part in passed if is_overcurrent(part)}
    return Cranking(
        starter,
        bank,
        current,
        lost,
        back is not None,
        tuple(_warmed(passed, current, network)),
        tuple(switches.values()),
        tuple(opening.values()),
        nearest,
        frozenset(part.name for part in passed if isinstance(part, Conductor)),
    )


def _warmed(parts: Sequence[Part], current: Value, network: Network) -> Iterator[Warmed]:
    names = dict.fromkeys(part.name for part in parts if isinstance(part, Conductor))
    for wire in (network.wires[name] for name in names):
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


def _way(start: Terminal, bank: BankStudy, network: Network) -> tuple[Part, ...]:
    """The parts of the best way from a terminal to a bank's pole; none where there is no way."""

    def cost(part: Part) -> float:
        return _ohms(part, network).number if isinstance(part, Conductor) else 0.0

    end = Terminal(bank.name, "", start.pole)
    return tuple(cheapest(start, end, network.circuit.ways, cost) or ())


def _resistance(parts: Sequence[Part], network: Network) -> Value | None:
    """Cold resistance (Ω) of the conductors among some parts."""
    own = [_ohms(part, network) for part in parts if isinstance(part, Conductor)]
    return total(own) if own else None


def _ohms(part: Conductor, network: Network) -> Value:
    return network.wires[part.name].cold_resistance_over(network.lengths[part])
