"""What a switch takes away: an alternator's battery, or the supply of what endangers without it."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Circuit, Passage, Terminal
from wattproof.circuit.walk import reached
from wattproof.plan.devices import Switch
from wattproof.plan.power import Charger, Load
from wattproof.plan.splitting import Isolator, Selector
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.working import Value, declared


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
    """An alternator whose battery can be taken away while it runs.

    switch: what parts it from every battery; None where it charges nothing but lithium, whose
    management opens. arrested: True where a surge arrester lies across its output.
    """

    alternator: Charger
    banks: tuple[BankStudy, ...]
    switch: Switch | None
    current: Value
    arrested: bool

    @property
    def never_opens(self) -> bool:
        """True for a selector that is made to go from one battery to the other without a gap."""
        return isinstance(self.switch, Selector) and bool(self.switch.make_before_break)


@record
class LowSwitch:
    """A switch that opens by itself at low voltage, and a bank that feeds it. opens: V."""

    switch: Switch
    bank: BankStudy
    opens: Value


def low_switches(battery_side: BatterySide, circuit: Circuit) -> Iterator[LowSwitch]:
    """Every such switch with every bank on its net."""
    seen: set[str] = set()
    for passage in _switches(circuit):
        switch = passage.device
        assert isinstance(switch, Switch)
        if switch.opens_below is None or str(switch.name) in seen:
            continue
        seen.add(str(switch.name))
        words = f"voltage below which {switch.name} opens"
        opens = declared(switch.opens_below, f"Uopen({switch.name})", words)
        plus = passage.start._replace(pole="positive")
        for bank in battery_side.banks_of(plus if passage.pole != "positive" else passage.start):
            yield LowSwitch(switch, bank, opens)


def cut_offs(battery_side: BatterySide, circuit: Circuit) -> Iterator[CutOff]:
    """Every critical load with every switch between it and all batteries."""
    banks = {Terminal(name, "", "positive") for name in battery_side.banks}
    for name, load in circuit.plan.all_loads.items():
        start = Terminal(name, "", "positive")
        if not load.critical or start not in circuit.around:
            continue
        seen: set[str] = set()
        for passage in _switches(circuit):
            switch = passage.device
            assert isinstance(switch, Switch)
            near = _reach(start, circuit, without=switch)
            if str(switch.name) in seen or banks & near:
                continue
            if banks & _reach(start, circuit):
                seen.add(str(switch.name))
                yield CutOff(load, switch, not _others(name, near, circuit))


def lost_batteries(battery_side: BatterySide, circuit: Circuit) -> Iterator[LostBattery]:
    """Every alternator whose batteries a switch, or their own management, takes away."""
    for name, alternator in circuit.plan.chargers.items():
        start = Terminal(name, "", "positive")
        banks = tuple(battery_side.fed_by(start))
        if alternator.kind != "alternator" or not banks:
            continue
        posts = {Terminal(bank.name, "", "positive") for bank in banks}
        current = battery_side.output(alternator)
        arrested = any(name == across.component for across in circuit.ends.arresters.values())
        seen: set[str] = set()
        for passage in _switches(circuit):
            switch = passage.device
            assert isinstance(switch, Switch)
            if str(switch.name) not in seen and not posts & _reach(start, circuit, without=switch):
                seen.add(str(switch.name))
                yield LostBattery(alternator, banks, switch, current, arrested)
        if not seen and not any(bank.is_lead for bank in banks):
            yield LostBattery(alternator, banks, None, current, arrested)


def _switches(circuit: Circuit) -> Iterator[Passage]:
    for element in circuit.battery_side:
        if isinstance(element, Passage) and isinstance(element.device, Switch):
            yield element


def _others(name: str, near: set[Terminal], circuit: Circuit) -> bool:
    """True where another consumer is on the load's side of a switch."""
    consumers = {*circuit.plan.all_loads, *circuit.plan.all_inverters} - {name}
    return any(terminal.component in consumers for terminal in near)


def _reach(start: Terminal, circuit: Circuit, without: Switch | None = None) -> set[Terminal]:
    """Terminals joined to one, a switch left open, and isolators passed as current does."""
    isolators: dict[Terminal, list[Terminal]] = {}
    for inside in circuit.insides:
        if isinstance(inside.component, Isolator):
            isolators.setdefault(inside.start, []).append(inside.end)

    def onward(here: Terminal) -> Iterator[Terminal]:
        yield from isolators.get(here, ())
        for part, there in circuit.ways(here):
            if not isinstance(part, Passage) or part.device is not without:
                yield there

    return reached([start], onward)
