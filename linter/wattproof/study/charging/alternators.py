"""Alternators: what vehicle chargers draw from them, and what lithium takes without a charger."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.converting import Converter
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger, Controller, is_alternator
from wattproof.plan.starting import Starter
from wattproof.record import record
from wattproof.study.assumptions.rows import PRACTICE
from wattproof.study.assumptions.units import (
    LITHIUM_AT_WORK_PER_12_V,
    LITHIUM_TAKES,
)
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.wiring.grounding import Ground
from wattproof.study.wiring.network import Network
from wattproof.words import enumerated
from wattproof.working import Value, declared, smallest, tabled, total

KEEPS_FULL: Final = 10.0
"""What keeps a starting battery full from another bank gives at the most (A; common practice)."""


@record
class AlternatorLoad:
    """The alternators of one net and what vehicle chargers draw from them.

    rating: of all alternators (A). chargers: each with its input current (A), converters that
    charge a bank among them.
    """

    alternators: tuple[Charger, ...]
    rating: Value
    chargers: tuple[tuple[Controller | Converter, Value], ...]

    @property
    def current(self) -> Value:
        """What the chargers draw together (A)."""
        current = total([amps for _, amps in self.chargers])
        return current.named("Iin", "input current of the vehicle chargers", "A")


@record
class LithiumOnAlternator:
    """Alternators wired to lithium banks without a vehicle charger in between.

    banks: those side by side. current: what they take through the resistance of the ways (A), or
    what regulators hold it to. rating: of all alternators (A). cooled: True where regulators give
    less before heat harms the alternators.
    """

    alternators: tuple[Charger, ...]
    banks: tuple[BankStudy, ...]
    current: Value
    rating: Value
    cooled: bool = False


@record
class WrongInput:
    """A vehicle charger, or a converter that charges, which takes its input from the wrong side.

    input, output: its terminals. itself: banks that it charges and draws from. alternator: the one
    that is on its output, with none on its input; None where the charger feeds itself.
    """

    charger: Controller | Converter
    input: str
    output: str
    itself: tuple[BankStudy, ...]
    alternator: Charger | None


@record
class Ring:
    """Chargers of which each takes from what the other charges, or one that takes from its own."""

    chargers: tuple[Named, ...]


@record
class NoWayBack:
    """An alternator or starter that returns through the engine, and a bank that is not tied to it.

    current: what the alternator gives, or the starter draws (A).
    """

    alternator: Charger | Starter
    bank: BankStudy
    current: Value


def alternator_loads(battery_side: BatterySide, circuit: Circuit) -> Iterator[AlternatorLoad]:
    """Every net with alternators and vehicle chargers that draw from it."""
    for net, alternators in _alternators(circuit).items():
        drawing: list[tuple[Controller | Converter, Value]] = []
        for charger, port in _between_banks(battery_side, circuit):
            drawn = battery_side.drawn(charger, port)
            if (
                drawn is not None
                and circuit.nets.net(Terminal(charger.name, port, "positive")) == net
            ):
                drawing.append((charger, drawn))
        if drawing:
            rating = _rating(alternators, battery_side)
            yield AlternatorLoad(tuple(alternators), rating, tuple(drawing))


def charging_converters(battery_side: BatterySide, circuit: Circuit) -> Iterator[Converter]:
    """Every converter that charges a bank."""
    for converter in circuit.plan.converters.values():
        if battery_side.fed_by(Terminal(converter.name, "output", "positive")):
            yield converter


def _between_banks(
    battery_side: BatterySide, circuit: Circuit
) -> Iterator[tuple[Controller | Converter, str]]:
    """What charges one bank from another's alternator, and the port at which it draws."""
    yield from ((controller, "alternator") for controller in circuit.plan.controllers.values())
    yield from ((c, "input") for c in charging_converters(battery_side, circuit))


def lithium_on_alternators(network: Network) -> Iterator[LithiumOnAlternator]:
    """Every lithium bank on the net of an alternator, packs side by side as one."""
    battery_side = network.battery_side
    for alternators in _alternators(network.circuit).values():
        terminal = Terminal(alternators[0].name, "", "positive")
        rating, held = _rated(alternators), _held(alternators, battery_side)
        cooled = all(alternator.senses_heat for alternator in alternators)
        banks = [bank for bank in battery_side.fed_by(terminal) if not bank.is_lead]
        if banks:
            current = _taken(alternators[0], banks, network)
            if held is not None:
                words = f"current to which regulators hold what {banks[0].name} takes"
                current = smallest([current, held]).named(f"I({banks[0].name})", words, "A")
            yield LithiumOnAlternator(tuple(alternators), tuple(banks), current, rating, cooled)


def without_way_back(
    battery_side: BatterySide, circuit: Circuit, grounds: tuple[Ground, ...]
) -> Iterator[NoWayBack]:
    """Every bank on an alternator or starter without a negative wire that nothing ties to it.

    A starter is bolted to the same engine, and its negative wire is a tie (common practice).
    """
    tied = {name for ground in grounds for name in ground.banks}
    starters = circuit.plan.starters
    alternators = {n: c for n, c in circuit.plan.chargers.items() if is_alternator(c)}
    on_engines: dict[str, Charger | Starter] = {**starters, **alternators}
    told: set[str] = set()
    for parts, beside in ((alternators, starters), (starters, on_engines)):
        minuses = (Terminal(name, "", "negative") for name in beside)
        engine = {circuit.nets.net(minus) for minus in minuses if minus in circuit.around}
        found = [
            NoWayBack(part, bank, _through(part, battery_side))
            for name, part in parts.items()
            if Terminal(name, "", "negative") not in circuit.around
            for bank in battery_side.fed_by(Terminal(name, "", "positive"))
            if bank.name not in told
            and circuit.nets.net(Terminal(bank.parts[-1].name, "", "negative")) not in engine
            and tied.isdisjoint(pack.name for pack in bank.parts)
        ]
        yield from found
        told.update(each.bank.name for each in found)


def _through(part: Charger | Starter, battery_side: BatterySide) -> Value:
    """What an alternator gives, or a starter draws (A)."""
    if isinstance(part, Starter):
        return declared(part.current, f"I({part.name})", f"current of {part.name}")
    return battery_side.output(part)


def _alternators(circuit: Circuit) -> dict[Terminal, list[Charger]]:
    groups: dict[Terminal, list[Charger]] = {}
    for charger in circuit.plan.chargers.values():
        if is_alternator(charger):
            net = circuit.nets.net(Terminal(charger.name, "", "positive"))
            groups.setdefault(net, []).append(charger)
    return groups


def _rating(alternators: list[Charger], battery_side: BatterySide) -> Value:
    ratings = [battery_side.output(alternator) for alternator in alternators]
    return total(ratings).named("Ialt", "rated current of the alternators", "A")


def _rated(alternators: list[Charger]) -> Value:
    """What is printed on the alternators, whatever their regulators hold them to (A)."""
    ratings = [
        declared(a.max_output_current, f"In({a.name})", f"rated current of {a.name}")
        for a in alternators
    ]
    return total(ratings).named("Ialt", "rated current of the alternators", "A")


def _held(alternators: list[Charger], battery_side: BatterySide) -> Value | None:
    """What regulators hold all alternators to (A); None where one of them has no limit."""
    if any(alternator.limited_to is None for alternator in alternators):
        return None
    return total([battery_side.output(alternator) for alternator in alternators])


def _taken(alternator: Charger, banks: list[BankStudy], network: Network) -> Value:
    """What banks side by side take from an alternator's fixed voltage (A)."""
    name, bank = str(alternator.name), banks[0]
    names = enumerated(each.name for each in banks)
    twelves = bank.nominal.number / 12.8
    volts = network.battery_side.voltage_at(alternator, twelves)
    inside = _practice(
        LITHIUM_AT_WORK_PER_12_V.value * twelves, "V", "Ubat", f"voltage of {names} at work"
    )
    resistance = network.resistance(banks, Terminal(name, "", "positive"))
    if resistance is None:
        resistance = network.inside.resistance(bank)
    else:
        words = f"resistance from {name} to {names}, with what is inside"
        resistance = resistance.named(f"Rway({name})", words, "Ω")
    through = ((volts - inside) / resistance).named(
        f"Iway({bank.name})", f"current that the cables let through to {names}", "A"
    )
    rate = _practice(LITHIUM_TAKES.value / 3600.0, "1/s", "c", "what lithium takes at the most")
    capacity = total([each.capacity for each in banks])
    most = (rate * capacity).named(f"Imost({bank.name})", f"most that {names} takes", "A")
    words = f"current that {names} takes from {alternator.name}"
    return smallest([through, most]).named(f"I({bank.name})", words, "A")


def _practice(number: float, unit: str, symbol: str, words: str) -> Value:
    return tabled(number, unit, symbol, words, PRACTICE)


def wrong_inputs(battery_side: BatterySide, circuit: Circuit) -> Iterator[WrongInput]:
    """What draws from what it charges, or charges what the alternator charges.

    What only a switch joins, as for an emergency, does not count; a main switch does. Nor does a
    converter that gives a starting battery the little which keeps it full.
    """
    net = circuit.nets.net
    alternators = [c for c in circuit.plan.chargers.values() if is_alternator(c)]
    charging = {str(c.name) for c in charging_converters(battery_side, circuit)}
    for charger, into, out in _pumps(circuit):
        start, end = (Terminal(str(charger.name), port, "positive") for port in (into, out))
        is_converter = isinstance(charger, Converter)
        if start not in circuit.around or (is_converter and charger.name not in charging):
            continue
        charged = circuit.joined_in_use(end)
        if not charged.isdisjoint(circuit.joined_in_use(start)):
            banks = (Terminal(name, "", "positive") for name in battery_side.banks)
            itself = tuple(battery_side.banks[t.component] for t in banks if t in charged)
            if not is_converter:
                yield WrongInput(charger, into, out, itself, None)
            continue
        if is_converter and battery_side.output(charger).number <= KEEPS_FULL:
            continue
        ends = [(a, Terminal(a.name, "", "positive")) for a in alternators]
        if not any(net(t) == net(start) for _, t in ends):
            yield from (WrongInput(charger, into, out, (), a) for a, t in ends if t in charged)


def _pumps(circuit: Circuit) -> Iterator[tuple[Controller | Converter, str, str]]:
    """What may pump from one battery to another, with its input and its output."""
    for charger in circuit.plan.controllers.values():
        if charger.kind == "vehicle-charger":
            yield charger, "alternator", "battery"
    yield from ((c, "input", "output") for c in circuit.plan.converters.values())


def rings(circuit: Circuit) -> Iterator[Ring]:
    """Chargers and converters that pump in a circle, but for vehicle chargers on one battery.

    What only a switch joins, and two that never work at once, do not count; a main switch does.
    """
    pumps = [
        (
            pump,
            circuit.joined_in_use(Terminal(str(pump.name), into, "positive")),
            circuit.joined_in_use(Terminal(str(pump.name), out, "positive")),
        )
        for pump, into, out in _pumps(circuit)
    ]
    for pump, from_here, out in pumps:
        if isinstance(pump, Converter) and not out.isdisjoint(from_here):
            yield Ring((pump,))
    for (one, from_one, out), (other, from_other, back) in combinations(pumps, 2):
        never = {getattr(one, "never_with", None), getattr(other, "never_with", None)}
        circle = not (out.isdisjoint(from_other) or back.isdisjoint(from_one))
        if circle and never.isdisjoint({one.name, other.name}):
            yield Ring((one, other))
