"""Which banks are joined to which, in parallel or in series, and which sources charge them."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from itertools import combinations, islice

from wattproof.circuit import Circuit, Passage, Terminal, is_of
from wattproof.circuit.walk import Walk
from wattproof.plan.devices import Switch
from wattproof.plan.fields import Count, Named
from wattproof.plan.power import Charger, Controller
from wattproof.plan.splitting import Selector
from wattproof.plan.terminals import output_port, ports
from wattproof.record import record
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.batteries import (
    MANAGED_FROM,
    NO_MOST_IN_PARALLEL,
    NO_MOST_IN_SERIES,
)
from wattproof.study.battery.bank import BankStudy, Way
from wattproof.study.battery.side import BatterySide
from wattproof.working import Value, counted, total

_POLES = ("positive", "negative")


@record
class JoinedBanks:
    """Two banks that conductors join, with nothing between them that converts.

    in_series: the negative of the one is the positive of the other; else they are in parallel.
    switches: those on the nearest way between their positives, each once, and relays by voltage on
    another way. selector: the one of them that leads from its one side to its other; None without.
    """

    first: BankStudy
    second: BankStudy
    in_series: bool
    switches: tuple[Switch, ...] = ()
    selector: Selector | None = None

    @property
    def switch(self) -> Switch | None:
        """What joins and parts them: a selector, else what closes by voltage, else any switch."""
        return self.selector or self.relay or next(reversed(self.switches), None)

    @property
    def relay(self) -> Switch | None:
        """The relay by voltage that joins them; None without."""
        return next((each for each in self.switches if each.closes_above is not None), None)


@record
class ChargedBanks:
    """A source and the banks in series that its output lies across; most often a single one."""

    source: Controller | Charger
    banks: tuple[BankStudy, ...]


@record
class PackCount:
    """Batteries that are joined in one way, those of other banks counted, and how many may be."""

    bank: BankStudy
    in_series: bool
    there: Value
    allowed: Value


@record
class Tap:
    """A component on the joint between banks in series, so that only some of them serve it.

    current: what it draws or gives (A). charges: True for a source. bank: the one next to it.
    """

    component: Named
    current: Value
    charges: bool
    bank: BankStudy


def joined_banks(battery_side: BatterySide, circuit: Circuit) -> Iterator[JoinedBanks]:
    """Every two banks that are joined, in the order of the plan."""
    for first, second in combinations(battery_side.banks.values(), 2):
        plus, minus = (_net(first, pole, circuit) for pole in _POLES)
        other_plus, other_minus = (_net(second, pole, circuit) for pole in _POLES)
        if plus == other_plus:
            switches = _switches_between(first, second, circuit)
            selector = _crossed(switches)
            if selector is not None and not selector.both:
                continue  # one or the other, never both
            switches += _relays_beside(first, second, switches, circuit)
            found = tuple({id(switch): switch for switch in switches}.values())
            yield JoinedBanks(first, second, False, found, selector)
        elif minus == other_plus or plus == other_minus:
            yield JoinedBanks(first, second, True)


def pack_counts(
    battery_side: BatterySide, joined: tuple[JoinedBanks, ...], assume: Assumer
) -> Iterator[PackCount]:
    """Every bank of which there is a limit to how many are joined, in either way.

    Where its maker's is not told: of packs of lithium that have a switch of their own, in series,
    and of lead in parallel inside one bank, whose links nobody tells.
    """
    for bank in battery_side.banks.values():
        battery = bank.battery
        through = tuple(_in_series(bank, joined))
        if battery.max_series is not None:
            yield _count(bank, through, _told(bank, battery.max_series, "series"), "series")
        elif _is_managed(bank) and (len(through) > 1 or bank.in_series > 1):
            most = assume.value(NO_MOST_IN_SERIES, bank.name, bank.at)
            yield _count(bank, through, most, "series")
        if battery.max_parallel is not None:
            beside, most = battery_side.beside(bank), _told(bank, battery.max_parallel, "parallel")
            yield _count(bank, beside, most, "parallel")
        elif bank.is_lead and bank.in_parallel > 1:
            most = assume.value(NO_MOST_IN_PARALLEL, bank.name, bank.at)
            yield _count(bank, (bank,), most, "parallel")


def _is_managed(bank: BankStudy) -> bool:
    """True for lithium that has a management of its own in each case."""
    return not bank.is_lead and bank.battery.nominal.value >= MANAGED_FROM.value


def _told(bank: BankStudy, allowed: Count, way: Way) -> Value:
    words = f"most in {way} of {bank.name}"
    return counted(allowed, allowed.text, allowed.place, "nmax", words)


def _count(bank: BankStudy, joined: Iterable[BankStudy], most: Value, way: Way) -> PackCount:
    each = total([other.count(way) for other in joined])
    there = each.named("n", f"batteries in {way} with {bank.name}", "")
    return PackCount(bank, way == "series", there, most)


def _in_series(bank: BankStudy, joined: tuple[JoinedBanks, ...]) -> Iterable[BankStudy]:
    """Banks in series through a bank, itself first."""

    def onward(here: BankStudy) -> Iterator[BankStudy]:
        for pair in joined:
            if pair.in_series and here in (pair.first, pair.second):
                yield pair.second if pair.first is here else pair.first

    return Walk([bank], lambda here: ((None, there) for there in onward(here)))


def taps(
    battery_side: BatterySide, circuit: Circuit, exchanged: Callable[[Named, str], Value | None]
) -> Iterator[Tap]:
    """Everything on a joint between banks in series.

    exchanged: what a component gives or draws at one of its ports (A), None for neither. A battery
    that is turned round is in series with another by that alone, of which more is told elsewhere.
    """
    turned = {str(each.component.name) for each in circuit.crossed}
    banks = [bank for name, bank in battery_side.banks.items() if name not in turned]
    above = {_net(bank, "negative", circuit): bank for bank in banks}
    below = {_net(bank, "positive", circuit): bank for bank in banks}
    middle = above.keys() & below.keys()
    for name, component in battery_side.components.items():
        for port in ports(component):
            plus, minus = (circuit.nets.net(Terminal(name, port, pole)) for pole in _POLES)
            current = exchanged(component, port)
            if current is None or not middle & {plus, minus}:
                continue
            served = below[plus] if plus in middle else above[minus]
            charges = output_port(component) == port
            yield Tap(component, current, charges, served)


def charged_banks(battery_side: BatterySide, circuit: Circuit) -> Iterator[ChargedBanks]:
    """What every source charges; one for each way from its positive back to its negative."""
    for name, source in battery_side.components.items():
        port = output_port(source)
        if port is not None and isinstance(source, Controller | Charger):
            start, end = (circuit.nets.net(Terminal(name, port, pole)) for pole in _POLES)
            for chain in chains(start, end, (), battery_side, circuit):
                if battery_side.may_reach(source, chain[0]):
                    yield ChargedBanks(source, chain)


def chains(
    here: Terminal,
    end: Terminal,
    passed: tuple[BankStudy, ...],
    battery_side: BatterySide,
    circuit: Circuit,
    explored: set[Terminal] | None = None,
) -> Iterator[tuple[BankStudy, ...]]:
    """Banks in series from a net on, until the source's negative or the last of them.

    Every bank is in one of them at least. What lies beyond a net is followed in all its ways once,
    and after that in one way only, since cross-tied batteries have more ways than can be counted.
    """
    explored = set() if explored is None else explored
    for bank in _starting_at(here, battery_side, circuit):
        if bank in passed:
            continue
        chain, beyond = (*passed, bank), _net(bank, "negative", circuit)
        if beyond == end or not _starting_at(beyond, battery_side, circuit):
            yield chain
            continue
        known = beyond in explored
        explored.add(beyond)
        further = chains(beyond, end, chain, battery_side, circuit, explored)
        yield from islice(further, 1) if known else further


def _starting_at(net: Terminal, battery_side: BatterySide, circuit: Circuit) -> list[BankStudy]:
    """The banks whose positive is on a net."""
    banks = battery_side.banks.values()
    return [bank for bank in banks if _net(bank, "positive", circuit) == net]


def _net(bank: BankStudy, pole: str, circuit: Circuit) -> Terminal:
    return circuit.nets.net(Terminal(bank.name, "", pole))


def _switches_between(
    first: BankStudy, second: BankStudy, circuit: Circuit, opened: Collection[Switch] = ()
) -> list[Switch]:
    """Those on the nearest way from one positive to the other, as often as it passes them.

    opened: switches that the way may not pass.
    """
    start, end = (Terminal(bank.name, "", "positive") for bank in (first, second))
    walk = circuit.walk(start, passes=lambda part: not is_of(part, opened))
    devices = (part.device for part in walk.passed(end) if isinstance(part, Passage))
    return [device for device in devices if isinstance(device, Switch)]


def _relays_beside(
    first: BankStudy, second: BankStudy, nearest: Sequence[Switch], circuit: Circuit
) -> list[Switch]:
    """Relays by voltage that join two banks beside the switch by hand on the nearest way."""
    if any(switch.closes_above is not None for switch in nearest):
        return []
    ways = (_switches_between(first, second, circuit, [each]) for each in nearest)
    return [switch for way in ways for switch in way if switch.closes_above is not None]


def _crossed(switches: Sequence[Switch]) -> Selector | None:
    """The selector that is passed from its one side to its other; None without."""
    selectors = [switch for switch in switches if isinstance(switch, Selector)]
    names = [str(selector.name) for selector in selectors]
    return next((s for s in selectors if names.count(str(s.name)) > 1), None)
