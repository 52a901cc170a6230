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
from wattproof.plan.starting import Starter
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.wiring.network import Network
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
    """A starter motor and the nearest battery that turns it.

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


def cranking(network: Network) -> Iterator[Cranking]:
    """Every starter that a battery turns, with the battery of the least resistance on the way."""
    side = network.battery_side
    for name, starter in network.circuit.plan.starters.items():
        plus, minus = (Terminal(name, "", pole) for pole in ("positive", "negative"))
        found = [
            (ohms, parts, bank)
            for bank in side.banks_of(plus)
            if (ohms := _resistance(parts := _way(plus, bank, network), network)) is not None
        ]
        if not found:
            continue
        there, parts, bank = min(found, key=lambda each: each[0].number)
        returns = _way(minus, bank, network)
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
        warmed = tuple(_warmed(passed, current, network))
        opening = {part.name: part for part in passed if is_overcurrent(part)}
        yield Cranking(
            starter,
            bank,
            current,
            lost,
            back is not None,
            warmed,
            tuple(switches.values()),
            tuple(opening.values()),
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
