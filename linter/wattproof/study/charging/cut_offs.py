"""What a switch takes away: an alternator's battery, or the supply of what endangers without it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from typing import Final

from wattproof.circuit import Circuit, Conductor, Passage, Terminal, is_overcurrent
from wattproof.plan.devices import Breaker, Switch
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger, Controller, Inverter, Load
from wattproof.plan.splitting import Selector
from wattproof.plan.wiring import TRAILER_PLUGS
from wattproof.record import record
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.joined import JoinedBanks
from wattproof.study.battery.side import BatterySide
from wattproof.study.charging.reach import reach, switch_passages, switches
from wattproof.study.limits import SLACK, exceeds
from wattproof.study.wiring.arresters import Arrested
from wattproof.study.wiring.partings import joining, ties
from wattproof.working import Value, declared

TURNING: Final = ("alternator", "wind")
"""Sources that go on turning when their battery is taken away, and run up in voltage."""


@record
class CutOff:
    """A critical load, and a switch that takes all batteries from it.

    alone: True where nothing else hangs behind the switch, so that it is the load's own.
    """

    load: Load
    switch: Switch
    alone: bool

    @property
    def by_itself(self) -> bool:
        """True where it opens without anybody's hand."""
        return self.switch.opens_below is not None or self.switch.opened_by is not None


@record
class LostBattery:
    """An alternator or wind generator whose battery can be taken away while it runs.

    switch: what parts it from every battery, a switch or a breaker, or a device that opens below
    what the source gives; None where it charges nothing but lithium, whose management opens, or
    nothing but what can be unplugged. arrested: True where a surge arrester of its voltage lies
    across its output. opens_at: rating (A) of a device that is below what the source gives.
    """

    alternator: Charger
    banks: tuple[BankStudy, ...]
    switch: Named | None
    current: Value
    arrested: bool
    unplugged: bool = False
    opens_at: Value | None = None

    @property
    def by_itself(self) -> bool:
        """True where a battery's management opens it."""
        return isinstance(self.switch, Switch) and self.switch.opened_by is not None

    @property
    def turns_in_wind(self) -> bool:
        """True for a wind generator, which nobody stops by turning a key."""
        return self.alternator.kind == "wind"

    @property
    def is_breaker(self) -> bool:
        """True for a breaker, which guards the cable and has a handle."""
        return isinstance(self.switch, Breaker)

    @property
    def never_opens(self) -> bool:
        """True for a selector that is made to go from one battery to the other without a gap."""
        return isinstance(self.switch, Selector) and bool(self.switch.make_before_break)


@record
class LowSwitch:
    """A switch that opens by itself at low voltage, or an inverter, and a bank that feeds it.

    opens: V. joins: True for a relay that joins two banks, and parts them when nothing charges.
    """

    switch: Switch | Inverter
    bank: BankStudy
    opens: Value
    joins: bool = False

    @property
    def is_inverter(self) -> bool:
        """True for an inverter, which sees the drop of its own cable too."""
        return isinstance(self.switch, Inverter)


HALF_FULL_PER_12_V = 0.7
"""V: by which lead that is half full rests below full lead, for each 12 V (common practice)."""


def is_under_half(volts: Value, bank: BankStudy) -> bool:
    """True for a voltage that a bank has at rest only when it is less than half full."""
    half = bank.resting_voltage.number - HALF_FULL_PER_12_V * bank.twelves
    return volts.number < half * (1.0 - SLACK)


@record
class RelayVoltage:
    """A relay that closes by voltage, and a bank beside it.

    closes: voltage above which it closes (V). highest: the most that charging brings there (V).
    joins: True where it joins two banks; else it gives and takes away what hangs behind it. opens:
    voltage below which it opens again (V), where that is told.
    """

    relay: Switch
    bank: BankStudy
    closes: Value
    highest: Value | None
    joins: bool
    opens: Value | None = None

    @property
    def holds_until_empty(self) -> bool:
        """True where it joins two banks until a lead one is less than half full at rest."""
        if not self.joins or self.opens is None or not self.bank.is_lead:
            return False
        return is_under_half(self.opens, self.bank)


def low_switches(
    battery_side: BatterySide, circuit: Circuit, joined: Sequence[JoinedBanks]
) -> Iterator[LowSwitch]:
    """Every such switch with every bank on its net."""
    seen: set[str] = set()
    for passage in switch_passages(circuit):
        switch = passage.device
        assert isinstance(switch, Switch)
        if switch.opens_below is None or str(switch.name) in seen:
            continue
        seen.add(str(switch.name))
        opens = _opens(switch)
        assert opens is not None
        joins = switch.closes_above is not None and any(switch in pair.switches for pair in joined)
        plus = passage.start._replace(pole="positive")
        for bank in battery_side.banks_of(plus if passage.pole != "positive" else passage.start):
            yield LowSwitch(switch, bank, opens, joins)
    for name, inverter in circuit.plan.all_inverters.items():
        if isinstance(inverter, Inverter) and inverter.low_voltage is not None:
            words = f"voltage below which {name} switches off"
            opens = declared(inverter.low_voltage, f"Ulow({name})", words)
            for bank in battery_side.banks_of(Terminal(name, "", "positive")):
                yield LowSwitch(inverter, bank, opens)


def relay_voltages(
    battery_side: BatterySide, circuit: Circuit, joined: Sequence[JoinedBanks]
) -> Iterator[RelayVoltage]:
    """Every relay that closes by voltage, with that bank on its net that rests at the lowest."""
    seen: set[str] = set()
    for passage in switch_passages(circuit):
        relay = passage.device
        assert isinstance(relay, Switch)
        banks = battery_side.banks_of(passage.start._replace(pole="positive"))
        if relay.closes_above is None or str(relay.name) in seen or not banks:
            continue
        seen.add(str(relay.name))
        words = f"voltage above which {relay.name} closes"
        closes = declared(relay.closes_above, f"Uclose({relay.name})", words)
        highest = battery_side.charge_voltage(passage.start._replace(pole="positive"))
        bank = min(banks, key=lambda bank: bank.resting_voltage.number)
        joins = any(relay in pair.switches for pair in joined)
        yield RelayVoltage(relay, bank, closes, highest, joins, _opens(relay))


def _opens(switch: Switch) -> Value | None:
    """Voltage below which a switch opens by itself (V); None of one that does not."""
    if switch.opens_below is None:
        return None
    words = f"voltage below which {switch.name} opens"
    return declared(switch.opens_below, f"Uopen({switch.name})", words)


def cut_offs(battery_side: BatterySide, circuit: Circuit) -> Iterator[CutOff]:
    """Every critical load with every switch between it and all batteries.

    What only a converter feeds hangs on what feeds that. Relays and ties between banks are open, as
    most often, where a bank feeds the load without them.
    """
    between = joining(battery_side)
    banks = battery_side.posts
    for name, load in circuit.plan.all_loads.items():
        start = Terminal(name, "", "positive")
        if not load.critical or start not in circuit.around:
            continue
        feeding = reach if banks & reach(start, circuit) else _through_converters
        if not banks & feeding(start, circuit):
            continue
        opened = between if banks & feeding(start, circuit, between) else ()
        for switch in switches(circuit):
            if switch in opened:
                continue
            near = feeding(start, circuit, [switch, *opened])
            if not banks & near:
                alone = not _others(name, near, circuit) and not isinstance(switch, Selector)
                yield CutOff(load, switch, alone)


def _through_converters(
    start: Terminal, circuit: Circuit, without: Sequence[Named] = ()
) -> set[Terminal]:
    """What a terminal is joined to, and what converters feed it from. without: what is open."""
    near = set(reach(start, circuit, without))
    left = list(circuit.plan.converters)
    for _ in left:
        for name in left:
            if Terminal(name, "output", "positive") in near:
                near |= reach(Terminal(name, "input", "positive"), circuit, without)
    return near


def critical_on_load_terminals(circuit: Circuit) -> Iterator[tuple[Load, Controller]]:
    """Every critical load on the load terminals of a controller, with no other way to a battery."""
    net = circuit.nets.net
    for name, load in circuit.plan.all_loads.items():
        own = net(Terminal(name, "", "positive"))
        if not load.critical:
            continue
        for controller in circuit.plan.controllers.values():
            port = Terminal(controller.name, "load", "positive")
            if port in circuit.around and net(port) == own:
                yield load, controller


def lost_batteries(
    battery_side: BatterySide, circuit: Circuit, arresters: Sequence[Arrested]
) -> Iterator[LostBattery]:
    """Every alternator whose batteries a switch, their own management or a hand takes away.

    Ties between banks are open, as most often, where a bank holds it without them. That of a
    vehicle which tows has its own battery, whether or not the plan of the trailer tells it.
    """
    between = ties(battery_side)
    for name, alternator in circuit.plan.chargers.items():
        start = Terminal(name, "", "positive")
        banks, opened = _holding(start, battery_side, between)
        posts = {Terminal(bank.name, "", "positive") for bank in banks}
        if alternator.kind not in TURNING or not banks or _is_towing(start, posts, circuit):
            continue
        current = battery_side.output(alternator)
        arrested = any(a.component == name and a.wakes for a in arresters)
        seen: set[str] = set()
        parted = False  # by a switch: what its management does is then the lesser matter
        for passage in _opening(circuit):
            device, rating = passage.device, None
            by_hand = isinstance(device, Switch | Breaker)
            if is_overcurrent(passage) and exceeds(current, device_rating(passage)):
                rating = device_rating(passage)
            if str(device.name) in seen or (rating is None and not by_hand):
                continue
            if not posts & reach(start, circuit, [device, *opened]):
                seen.add(str(device.name))
                parted = parted or isinstance(device, Switch)
                yield LostBattery(alternator, banks, device, current, arrested, opens_at=rating)
        if all(part.battery.removable for bank in banks for part in bank.parts):
            yield LostBattery(alternator, banks, None, current, arrested, unplugged=True)
        elif not parted and not any(bank.is_lead for bank in banks):
            yield LostBattery(alternator, banks, None, current, arrested)


def _holding(
    start: Terminal, battery_side: BatterySide, between: tuple[Switch, ...]
) -> tuple[tuple[BankStudy, ...], tuple[Switch, ...]]:
    """The banks that a source feeds with ties open, and these; else all of them, and none."""
    banks = tuple(battery_side.fed_by(start))
    near = reach(start, battery_side.circuit, between) if between else set()
    own = tuple(bank for bank in banks if Terminal(bank.name, "", "positive") in near)
    return (own, between) if own else (banks, ())


def _is_towing(start: Terminal, posts: AbstractSet[Terminal], circuit: Circuit) -> bool:
    """True where a source reaches the posts of banks through the plug of a trailer alone."""
    on_board = circuit.walk(
        start,
        passes=lambda part: not isinstance(part, Conductor) or part.wire.plug not in TRAILER_PLUGS,
    )
    return posts.isdisjoint(on_board) and not posts.isdisjoint(circuit.walk(start))


def _opening(circuit: Circuit) -> Iterator[Passage]:
    """Every way through a switch, then through an overcurrent device, of the battery side."""
    yield from switch_passages(circuit)
    for element in circuit.battery_side:
        if isinstance(element, Passage) and is_overcurrent(element):
            yield element


def _others(name: str, near: set[Terminal], circuit: Circuit) -> bool:
    """True where another consumer is on the load's side of a switch."""
    plan = circuit.plan
    consumers = {*plan.all_loads, *plan.all_inverters, *plan.starters} - {name}
    return any(terminal.component in consumers for terminal in near)
