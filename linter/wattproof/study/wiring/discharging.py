"""What consumers draw from banks and from the load terminals of controllers."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.boxes import PowerBox
from wattproof.plan.converting import Converter
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger, Controller, Inverter, Load, is_alternator
from wattproof.plan.terminals import input_port, output_port
from wattproof.plan.together import on_at_once
from wattproof.record import record
from wattproof.study.assumptions.batteries import DISCHARGE_RATE, NO_DISCHARGE_LIMIT, UNEQUAL_SHARE
from wattproof.study.assumptions.units import NO_LOAD_RATING
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.partings import alone
from wattproof.words import enumerated
from wattproof.working import Value, declared, smallest, tabled, total


@record
class Drawn:
    """Banks in parallel and what is drawn from them when everything runs.

    consumers: each with its current (A). current: their sum (A).
    """

    banks: tuple[BankStudy, ...]
    consumers: tuple[tuple[Named, Value], ...]
    current: Value

    @property
    def for_long(self) -> Value | None:
        """What is drawn for longer than some minutes (A); None where nothing is."""
        return self.for_long_without(())

    def for_long_without(self, names: Collection[str]) -> Value | None:
        """The same, without consumers of those names (A)."""
        lasts = [
            amps
            for c, amps in self.consumers
            if getattr(c, "short_duty", None) is None and str(c.name) not in names
        ]
        if len(lasts) == len(self.consumers):
            return self.current
        if not lasts:
            return None
        words = f"current of all that draws for long from {_names(self.banks)}"
        return total(lasts).named(f"Ilong({self.banks[0].name})", words, "A")


@record
class Group(Drawn):
    """The same, of all banks that switches can join.

    every: the consumers with those that do not run while these do, by the lists of what runs
    together.
    """

    every: tuple[tuple[Named, Value], ...]


@record
class Discharging(Drawn):
    """The same, of banks whose limit is known.

    limit: what the banks may give together (A). selectors: names of those that lead to these banks
    alone, where that decides. opened: of relays and ties that are open then.
    """

    limit: Value
    selectors: tuple[str, ...] = ()
    opened: tuple[str, ...] = ()

    @property
    def needed_each(self) -> float:
        """What each pack must give (A), so that all is within the limit."""
        packs = sum(bank.in_parallel for bank in self.banks)
        whole = sum(bank.capacity.number for bank in self.banks)
        each = 1.0 / ((UNEQUAL_SHARE.value if packs > 1 else 1.0) * packs)
        shares = (bank.capacity.number / whole / bank.in_parallel for bank in self.banks)
        return self.current.number * max(each, *shares)


@record
class LoadPort:
    """The load terminals of a controller, and what hangs on them.

    rating: what they are rated for, told or as is usual (A); None for the outlet of a power box
    that tells none. loads, inverters, starters: each with its current (A).
    """

    controller: Controller
    rating: Value | None
    loads: tuple[tuple[Named, Value], ...]
    inverters: tuple[tuple[Named, Value], ...]
    starters: tuple[tuple[Named, Value], ...] = ()

    @property
    def current(self) -> Value:
        """What the loads draw together (A)."""
        name = self.controller.name
        current = total([amps for _, amps in self.loads])
        return current.named(f"I({name}.load)", f"current of the loads on {name}", "A")


def drawn(network: Network, ports: tuple[LoadPort, ...]) -> Iterator[Group]:
    """Every group of banks in parallel that something draws from."""
    battery_side, circuit = network.battery_side, network.circuit
    seen: set[str] = set()
    for bank in battery_side.banks.values():
        banks = tuple(battery_side.beside(bank))
        if bank.name in seen:
            continue
        seen.update(b.name for b in banks)
        every = (*_drawing(bank, network), *_behind(bank, ports, circuit))
        consumers = _at_once(every, circuit)
        if consumers:
            words = f"current of all that draws from {_names(banks)}"
            current = total([amps for _, amps in consumers])
            current = current.named(f"Idraw({banks[0].name})", words, "A")
            yield Group(banks, consumers, current, every)


def _at_once(
    consumers: Sequence[tuple[Named, Value]], circuit: Circuit
) -> tuple[tuple[Named, Value], ...]:
    """Those of some consumers that run where they draw the most together."""
    weighed = [(str(consumer.name), amps.number) for consumer, amps in consumers]
    on = on_at_once(circuit.plan.together or (), weighed)
    return tuple(each for each, runs in zip(consumers, on, strict=True) if runs)


def discharging(groups: tuple[Group, ...], network: Network) -> Iterator[Discharging]:
    """Those of the groups whose limit can be told, and of others each bank that has one.

    Banks to which selectors lead alone, or that a relay or tie leaves alone, give all that is then
    left on them. Beside lead, which has no limit, lithium is alone with what is on its own side of
    every switch once that is open.
    """
    for group in groups:
        limit = _limit(group.banks, network.battery_side)
        parted = list(_alone(group, network))
        if limit is None:
            told = {bank.name for each in parted for bank in each.banks}
            yield from (*parted, *_apart(group, told, network))
            continue
        share = group.current.number / limit.number
        harder = any(each.current.number / each.limit.number > share for each in parted)
        whole = Discharging(group.banks, group.consumers, group.current, limit)
        yield from parted if harder else [whole]


def _alone(group: Group, network: Network) -> Iterator[Discharging]:
    """Banks of a group that selectors, relays and ties leave alone, each with what is on it."""
    told: set[str] = set()
    for bank in group.banks:
        each = alone(bank, network.battery_side)
        if each is None or bank.name in told:
            continue
        told.update(other.name for other in each.banks)
        limit = _limit(each.banks, network.battery_side)
        left = left_on(group, each.banks, each.joined, network.circuit)
        if limit is not None and left is not None:
            yield Discharging(
                left.banks, left.consumers, left.current, limit, each.selectors, each.opened
            )


def left_on(
    group: Group, banks: tuple[BankStudy, ...], joined: Collection[Terminal], circuit: Circuit
) -> Drawn | None:
    """What of a group stays on some banks, by what they are joined to; None for nothing."""
    staying = tuple((c, amps) for c, amps in group.every if taken_at(c) in joined)
    left = _at_once(staying, circuit)
    if not left:
        return None
    words = f"current of all that draws from {_names(banks)} alone"
    current = total([amps for _, amps in left])
    return Drawn(banks, left, current.named(f"Idraw({banks[0].name})", words, "A"))


def _apart(group: Group, told: Collection[str], network: Network) -> Iterator[Discharging]:
    """Banks of a group that a switch parts from all others, each with what stays on it."""
    posts = {bank.name: Terminal(bank.name, "", "positive") for bank in group.banks}
    for bank in (each for each in group.banks if each.name not in told):
        limit = _limit((bank,), network.battery_side)
        near = network.circuit.joined_for_good(posts[bank.name])
        others = (post for name, post in posts.items() if name != bank.name)
        if limit is None or not near.isdisjoint(others):
            continue
        left = left_on(group, (bank,), near, network.circuit)
        if left is not None:
            yield Discharging(left.banks, left.consumers, left.current, limit)


def taken_at(consumer: Named) -> Terminal:
    """Where a consumer takes its current."""
    port = "alternator" if isinstance(consumer, Controller) else input_port(consumer)
    return Terminal(str(consumer.name), port, "positive")


def load_ports(network: Network) -> Iterator[LoadPort]:
    """Every controller with something on its load terminals."""
    circuit = network.circuit
    for controller in circuit.plan.all_controllers.values():
        net = circuit.nets.net(Terminal(controller.name, "load", "positive"))
        if net == circuit.nets.net(Terminal(controller.name, "battery", "positive")):
            continue
        found = list(consumers_on(net, network))
        starters = tuple(_starters_on(net, circuit))
        if found or starters:
            inverters = tuple(pair for pair in found if isinstance(pair[0], Inverter))
            loads = tuple(pair for pair in found if not isinstance(pair[0], Inverter))
            rating = _rating_of(controller, network.battery_side)
            yield LoadPort(controller, rating, loads, inverters, starters)


def _rating_of(controller: Controller, battery_side: BatterySide) -> Value | None:
    """What the load terminals of a controller are rated for (A), told or as is usual."""
    name, written = controller.name, controller.load_current
    symbol, words = f"Iload({name})", f"rated current of the load terminals of {name}"
    if written is not None:
        return declared(written, symbol, words)
    if isinstance(controller, PowerBox) or controller.max_output_current is None:
        return None
    share = battery_side.assume.value(NO_LOAD_RATING, str(name), controller.at)
    given = declared(controller.max_output_current, f"Iout({name})", f"rated output of {name}")
    return (share * given).named(symbol, words, "A")


def _starters_on(net: Terminal, circuit: Circuit) -> Iterator[tuple[Named, Value]]:
    """Starters whose positive is on a net, each with what it draws while it turns (A)."""
    for name, starter in circuit.plan.starters.items():
        if circuit.nets.net(Terminal(name, "", "positive")) == net:
            words = f"current of {name} while it turns the engine"
            yield starter, declared(starter.current, f"I({name})", words)


def consumers_on(net: Terminal, network: Network) -> Iterator[tuple[Named, Value]]:
    """What draws from a net, each with its current (A).

    A vehicle charger draws from a bank that others charge; where an alternator does, or nobody
    tells what does, it takes what the engine gives.
    """
    for component in network.battery_side.components.values():
        takes = isinstance(component, Load | Inverter | Converter)
        if takes or _takes_of_a_bank(component, net, network):
            plus = taken_at(component)
            drawn = network.drawn(component, plus.port)
            if drawn is not None and network.circuit.nets.net(plus) == net:
                yield component, drawn


def _takes_of_a_bank(component: Named, net: Terminal, network: Network) -> bool:
    """True for a vehicle charger whose input is on a net that others charge, and no alternator."""
    if not isinstance(component, Controller) or component.kind != "vehicle-charger":
        return False
    charging = [
        source
        for source in network.battery_side.components.values()
        if isinstance(source, Charger | Controller)
        and (port := output_port(source)) is not None
        and network.circuit.nets.net(Terminal(str(source.name), port, "positive")) == net
    ]
    return bool(charging) and not any(is_alternator(source) for source in charging)


def _drawing(bank: BankStudy, network: Network) -> Iterator[tuple[Named, Value]]:
    net = network.circuit.nets.net(Terminal(bank.name, "", "positive"))
    yield from consumers_on(net, network)


def _behind(
    bank: BankStudy, ports: tuple[LoadPort, ...], circuit: Circuit
) -> Iterator[tuple[Named, Value]]:
    """What draws through the load terminals of a bank's controllers."""
    net = circuit.nets.net(Terminal(bank.name, "", "positive"))
    for port in ports:
        if circuit.nets.net(Terminal(port.controller.name, "battery", "positive")) == net:
            yield from (*port.loads, *port.inverters)


def _limit(banks: tuple[BankStudy, ...], battery_side: BatterySide) -> Value | None:
    """What banks in parallel may give (A); None for lead without a label, which has no cut-off."""
    limits: list[Value] = []
    for bank in banks:
        if any(p.battery.max_discharge_current is None and p.is_lead for p in bank.parts):
            return None
        limits.append(_limit_of(bank, battery_side))
    if len(banks) == 1 and banks[0].in_parallel == 1:
        return limits[0]
    words = "share that the weakest of parallel packs takes before another is over its limit"
    share = tabled(UNEQUAL_SHARE.value, "", "kshare", words, UNEQUAL_SHARE.source)
    name, words = f"Imax({banks[0].name})", f"discharge limit of {_names(banks)}"
    together = total(limits) * share
    if len(banks) == 1:
        return together.named(name, words, "A")
    whole = total([bank.capacity for bank in banks])
    first = [
        (limit * whole / bank.capacity).named(
            f"Ifirst({bank.name})",
            f"what {_names(banks)} give until {bank.name}, by its capacity, gives all it may",
            "A",
        )
        for bank, limit in zip(banks, limits, strict=True)
    ]
    all_of_them = together.named(f"Iall({banks[0].name})", f"what {_names(banks)} give", "A")
    return smallest([all_of_them, *first]).named(name, words, "A")


def _limit_of(bank: BankStudy, battery_side: BatterySide) -> Value:
    """What a bank may give (A): of batteries in series the weakest."""
    if len(bank.parts) > 1:
        least = smallest([_limit_of(part, battery_side) for part in bank.parts])
        return least.named(f"Idis({bank.name}…)", f"discharge limit of {bank.all_names}", "A")
    written = bank.battery.max_discharge_current
    words = f"discharge limit of {bank.name}"
    if written is None:
        rate = battery_side.assume.value(
            NO_DISCHARGE_LIMIT, bank.name, bank.at, number=DISCHARGE_RATE.value / 3600.0
        )
        return (rate * bank.capacity).named(f"Idis({bank.name})", words, "A")
    return bank.times(declared(written, "Idis", words), "parallel")


def _names(banks: tuple[BankStudy, ...]) -> str:
    return enumerated(bank.name for bank in banks)
