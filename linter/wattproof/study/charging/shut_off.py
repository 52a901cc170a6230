"""What a switch takes from a battery that needs it, and what gets to a battery past one.

A battery that is charged through the switch that saves it is never charged again; one that is kept
warm through a switch freezes behind it; and a relay that the management opens guards nothing from
what is led past it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import TypeAlias

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.converting import Converter
from wattproof.plan.devices import Switch
from wattproof.plan.fields import Named
from wattproof.plan.heating import Heater
from wattproof.plan.power import Charger, Controller, Inverter, Load
from wattproof.plan.splitting import Selector
from wattproof.plan.terminals import POLES, output_port
from wattproof.record import record
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.batteries import MANAGED_FROM, NO_MANAGEMENT
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.charging.cut_offs import TURNING, is_under_half
from wattproof.study.charging.reach import reach, switches
from wattproof.working import Value, declared

Source: TypeAlias = Controller | Charger


@record
class NeverFilled:
    """A source, banks, and a switch on its only way to them that opens when they are empty.

    opens: voltage below which that is (V). others: True where something else charges them past it.
    """

    source: Source
    switch: Switch
    banks: tuple[BankStudy, ...]
    opens: Value
    others: bool


@record
class LeftCold:
    """A heater, the bank that it warms, a switch that takes its power, and what charges on then."""

    heater: Heater
    bank: BankStudy
    switch: Switch
    sources: tuple[Source, ...]

    @property
    def by_itself(self) -> bool:
        """True where it opens without anybody's hand."""
        return opens_by_itself(self.switch)


@record
class PastManagement:
    """What is on a bank with every switch open that the bank's management opens.

    switches: those, which part other sources from it. charges: True for a source. current: what it
    gives or draws (A).
    """

    component: Named
    bank: BankStudy
    switches: tuple[Switch, ...]
    charges: bool
    current: Value


def opens_by_itself(switch: Switch) -> bool:
    """True for a switch that opens without anybody's hand."""
    return switch.opens_below is not None or switch.opened_by is not None


def never_filled(battery_side: BatterySide, circuit: Circuit) -> Iterator[NeverFilled]:
    """Every source with every such switch; those that turn run away without it, a worse matter.

    A relay that closes again by voltage is closed by a charger that needs no battery to start. Of
    several banks one alone may be left empty, where nothing else fills it.
    """
    for switch in switches(circuit):
        if switch.opens_below is None:
            continue
        words = f"voltage below which {switch.name} opens"
        opens = declared(switch.opens_below, f"Uopen({switch.name})", words)
        for source, banks in _charging(battery_side):
            turns = getattr(source, "kind", None) in TURNING
            closes = switch.closes_above is not None and not isinstance(source, Controller)
            if turns or closes:
                continue
            if _is_parted(source, banks, circuit, [switch]):
                others = _filled_past(switch, banks, battery_side, circuit)
                yield NeverFilled(source, switch, banks, opens, others)
                continue
            for bank in banks if len(banks) > 1 else ():
                alone = (bank,)
                if not is_under_half(opens, bank):
                    continue  # it parts banks with the engine off, and saves none
                if _is_parted(source, alone, circuit, [switch]) and not _filled_past(
                    switch, alone, battery_side, circuit
                ):
                    yield NeverFilled(source, switch, alone, opens, False)


def _filled_past(
    switch: Switch, banks: Sequence[BankStudy], battery_side: BatterySide, circuit: Circuit
) -> bool:
    """True where a source charges some of the banks past a switch."""
    return any(
        not set(banks).isdisjoint(fed) and not _is_parted(other, banks, circuit, [switch])
        for other, fed in _charging(battery_side)
    )


def left_cold(battery_side: BatterySide, circuit: Circuit) -> Iterator[LeftCold]:
    """Every heater of a battery with every switch that it is fed through, and a source is not."""
    everything = tuple(battery_side.banks.values())
    for heater in circuit.plan.heaters.values():
        bank = battery_side.banks.get(str(heater.warms))
        if bank is None or heater.keeps is None:
            continue
        for switch in switches(circuit):
            if isinstance(switch, Selector):
                continue
            sources = tuple(
                source
                for source, banks in _charging(battery_side)
                if any(bank in whole.parts for whole in banks)
                and not _is_parted(source, banks, circuit, [switch])
            )
            if sources and _is_parted(heater, everything, circuit, [switch]):
                yield LeftCold(heater, bank, switch, sources)


def past_management(battery_side: BatterySide, circuit: Circuit) -> Iterator[PastManagement]:
    """All that is led past the relay of a bank's management that parts others of its kind.

    What must not stop, and what warms the bank, is led past it on purpose. A relay for charging
    guards no consumer, and one for consumers no charging, unless the bank is of bare cells, which
    nothing inside parts from what charges them.
    """
    for whole in battery_side.wholes:
        own = {str(part.name) for part in whole.parts}
        relays = tuple(s for s in switches(circuit) if s.opened_by in own)
        if not relays:
            continue
        sources = [s for s, banks in _charging(battery_side) if whole in banks]
        free = [s for s in sources if not _is_parted(s, (whole,), circuit, relays)]
        if len(free) == len(sources) and not _is_of_bare_cells(whole):
            continue
        for source in free:
            yield PastManagement(source, whole, relays, True, battery_side.output(source))
        drawing = [
            (component, port, drawn)
            for component, port in _consumers(battery_side)
            if component not in sources
            and (drawn := battery_side.drawn(component, port)) is not None
            and whole in battery_side.banks_of(Terminal(str(component.name), port, "positive"))
        ]
        beside = [
            (component, drawn)
            for component, port, drawn in drawing
            if not _is_parted(component, (whole,), circuit, relays, port)
        ]
        for component, drawn in beside if len(beside) < len(drawing) else ():
            if not getattr(component, "critical", False) and not isinstance(component, Heater):
                yield PastManagement(component, whole, relays, False, drawn)


def unmanaged(
    battery_side: BatterySide, circuit: Circuit, assume: Assumer
) -> Iterator[tuple[BankStudy, tuple[Source, ...]]]:
    """Bare cells that nothing parts from what charges them, each bank with its sources.

    A board of theirs that does is taken to be there, where the plan tells neither it nor a relay.
    """
    relays = {str(switch.opened_by) for switch in switches(circuit) if switch.opened_by is not None}
    for whole in battery_side.wholes:
        names = {str(part.name) for part in whole.parts}
        told = any("low_temperature_cutoff" in p.battery.model_fields_set for p in whole.parts)
        if not _is_of_bare_cells(whole) or told or relays & names:
            continue
        sources = tuple(source for source, banks in _charging(battery_side) if whole in banks)
        if sources and not assume.is_so(NO_MANAGEMENT, whole.name, whole.at, usual=True)[0]:
            yield whole, sources


def _is_of_bare_cells(bank: BankStudy) -> bool:
    """True for lithium that has no management in each case."""
    return not bank.is_lead and all(
        part.battery.nominal.value < MANAGED_FROM.value for part in bank.parts
    )


def _charging(battery_side: BatterySide) -> Iterator[tuple[Source, tuple[BankStudy, ...]]]:
    """Every source with the banks that it charges."""
    for name, source in battery_side.components.items():
        port = output_port(source)
        if port is None or not isinstance(source, Controller | Charger):
            continue
        banks = tuple(battery_side.fed_by(Terminal(name, port, "positive")))
        if banks and not battery_side.idle(source):
            yield source, banks


def _consumers(battery_side: BatterySide) -> Iterator[tuple[Named, str]]:
    """Every consumer with the port at which it draws."""
    for component in battery_side.components.values():
        if isinstance(component, Controller):
            yield component, "alternator"
        elif isinstance(component, Converter):
            yield component, "input"
        elif isinstance(component, Load | Inverter):
            yield component, ""


def _is_parted(
    component: Named,
    banks: Collection[BankStudy],
    circuit: Circuit,
    opened: Collection[Switch],
    port: str | None = None,
) -> bool:
    """True where open switches take a pole of it off that of all of some banks."""
    port = (output_port(component) or "") if port is None else port
    for pole in POLES:
        start = Terminal(str(component.name), port, pole)
        posts = {Terminal(part.name, "", pole) for bank in banks for part in bank.parts}
        joined = not posts.isdisjoint(reach(start, circuit))
        if joined and posts.isdisjoint(reach(start, circuit, opened)):
            return True
    return False
