"""What stays on the array when the battery is taken away from a controller that does not hold."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from wattproof.circuit import Circuit, Passage, Terminal, is_of, is_overcurrent
from wattproof.plan.converting import Converter
from wattproof.plan.devices import Switch
from wattproof.plan.fields import Named
from wattproof.plan.power import Controller, Inverter, Load
from wattproof.plan.terminals import input_port
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.switching import between_controller_and_banks
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.limits import exceeds
from wattproof.working import Value


def lets_array_through(controller: Controller) -> bool:
    """True where nothing but a battery holds down what an array puts on the loads.

    So it is of a pulse-width controller whose maker states no better, and of any other of which the
    plan says that it does not hold without a battery.
    """
    if controller.holds_without_battery:
        return False
    return controller.kind == "pwm" or "holds_without_battery" in controller.model_fields_set


@record
class LeftInSun:
    """Consumers that hang on an array with nothing to hold its voltage down.

    by: the switch or breaker that takes the battery away, or the battery itself where it is one
    that can be unplugged. bank: the battery that held the voltage. opens_at: the rating (A) of a
    fuse that is below what the array gives in full sun, and opens by that.
    """

    array: ArrayStudy
    by: Named
    bank: BankStudy
    consumers: tuple[Named, ...]
    opens_at: Value | None = None


@record
class UnpluggedInSun:
    """A bank that can be unplugged and is the only one of a controller with an array."""

    array: ArrayStudy
    bank: BankStudy


def unplugged_in_sun(
    arrays: Iterable[ArrayStudy], battery_side: BatterySide, ties: tuple[Switch, ...]
) -> Iterator[UnpluggedInSun]:
    """Every such bank, where the controller does not state that it holds without a battery.

    ties: switches between banks that are most often open.
    """
    for array in arrays:
        controller = array.controller
        plus = Terminal(controller.name, "battery", "positive")
        banks = _banks_without(ties, plus, battery_side)
        held = getattr(controller, "holds_without_battery", False)
        if banks and not held and all(part.battery.removable for b in banks for part in b.parts):
            yield UnpluggedInSun(array, banks[0])


def left_in_sun(
    arrays: Iterable[ArrayStudy], battery_side: BatterySide, ties: tuple[Switch, ...]
) -> Iterator[LeftInSun]:
    """Every way to take all batteries from such a controller that leaves it consumers.

    ties: switches between banks that are most often open.
    """
    circuit = battery_side.circuit
    for array in arrays:
        controller = array.controller
        plus = Terminal(controller.name, "battery", "positive")
        banks = _banks_without(ties, plus, battery_side)
        if not (banks and lets_array_through(controller)):
            continue
        if all(part.battery.removable for bank in banks for part in bank.parts):
            consumers = _consumers(_joined(plus, circuit, ties), array, battery_side)
            if consumers:
                yield LeftInSun(array, banks[0].battery, banks[0], consumers)
        opened = list(_by_small_fuses(array, banks[0], plus, battery_side, ties))
        yield from opened
        passages = between_controller_and_banks(controller, circuit, ties)
        if len({passage.name for passage in passages}) != 1:
            continue  # none, or several that must all be opened
        if is_of(passages[0], [left.by for left in opened]):
            continue
        start = plus._replace(pole=passages[0].pole)
        near = _joined(start, circuit, (*ties, passages[0].device))
        consumers = _consumers(near, array, battery_side)
        if consumers:
            yield LeftInSun(array, passages[0].device, banks[0], consumers)


def _by_small_fuses(
    array: ArrayStudy,
    bank: BankStudy,
    plus: Terminal,
    battery_side: BatterySide,
    ties: tuple[Switch, ...],
) -> Iterator[LeftInSun]:
    """Fuses and breakers that the sun itself opens, and that every battery is behind."""
    circuit = battery_side.circuit
    for passage in circuit.battery_side:
        if not isinstance(passage, Passage) or not is_overcurrent(passage):
            continue
        rating = device_rating(passage)
        if not exceeds(array.isc("standard"), rating):
            continue
        start = plus._replace(pole=passage.pole)
        near = _joined(start, circuit, (*ties, passage.device))
        posts = {Terminal(name, "", passage.pole) for name in battery_side.banks}
        consumers = _consumers(near, array, battery_side)
        if consumers and {passage.start, passage.end} & near and not posts & near:
            yield LeftInSun(array, passage.device, bank, consumers, opens_at=rating)


def _banks_without(
    ties: tuple[Switch, ...], plus: Terminal, battery_side: BatterySide
) -> list[BankStudy]:
    """The banks on a controller with ties open; with them closed where none is left."""
    banks = battery_side.banks_of(plus)
    near = _joined(plus, battery_side.circuit, ties) if ties else set()
    return [bank for bank in banks if Terminal(bank.name, "", "positive") in near] or banks


def _joined(start: Terminal, circuit: Circuit, opened: Collection[Named]) -> set[Terminal]:
    """Terminals of one pole that are joined to one, some devices left open."""
    return set(circuit.walk(start, passes=lambda part: not is_of(part, opened)))


def _consumers(
    near: set[Terminal], array: ArrayStudy, battery_side: BatterySide
) -> tuple[Named, ...]:
    """Consumers there, and those on the controller's load terminals, which hand the battery on."""
    net = battery_side.circuit.nets.net
    load = net(Terminal(array.controller.name, "load", "positive"))
    found: list[Named] = []
    for name, component in battery_side.components.items():
        if not isinstance(component, Load | Inverter | Converter):
            continue
        port = input_port(component)
        poles = {Terminal(name, port, pole) for pole in ("positive", "negative")}
        if poles & near or net(Terminal(name, port, "positive")) == load:
            found.append(component)
    return tuple(found)
