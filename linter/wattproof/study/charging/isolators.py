"""Diode isolators: what passes through them, and what is left of the voltage behind them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from wattproof.circuit import Circuit, Passage, Terminal
from wattproof.circuit.walk import steps
from wattproof.plan.devices import Switch
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger
from wattproof.plan.root import Plan
from wattproof.plan.splitting import Isolator
from wattproof.record import record
from wattproof.study.assumptions.rows import PRACTICE
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide, Source
from wattproof.working import Value, declared, tabled, total

DROP = 0.7
"""Voltage that a silicon diode takes at the current of an alternator (V)."""


@record
class Isolated:
    """An isolator, its sources, what they give together, and its rating (A)."""

    isolator: Isolator
    sources: tuple[Named, ...]
    current: Value
    rating: Value


@record
class BehindDiode:
    """A bank behind an isolator, a source before it, and the voltage that is left for it (V).

    filled: True where another source, without a diode between, charges it until it is full.
    sensed: True where the source makes up for the drop, so that all of its voltage is left.
    """

    isolator: Isolator
    source: Source
    bank: BankStudy
    drop: Value
    left: Value
    filled: bool
    sensed: bool


@record
class Unparted:
    """Banks that an isolator does not keep apart.

    outputs: the one output that all of them hang on, or two that are joined behind it; none where
    banks are on its input. fed: the output that a source feeds where no source feeds its input.
    """

    isolator: Isolator
    outputs: tuple[str, ...]
    banks: tuple[BankStudy, ...]
    fed: str = ""


def isolated(plan: Plan, battery_side: BatterySide) -> Iterator[Isolated]:
    """Every isolator that something feeds."""
    for name, isolator in plan.diode_isolators.items():
        sources = battery_side.feeding(Terminal(name, "input", "positive"))
        if sources:
            current = total([battery_side.output(source) for source in sources])
            words = f"current into {name}"
            rating = declared(isolator.rating, f"In({name})", f"rating of {name}")
            yield Isolated(
                isolator, tuple(sources), current.named(f"I({name})", words, "A"), rating
            )


def unparted(plan: Plan, battery_side: BatterySide, circuit: Circuit) -> Iterator[Unparted]:
    """Every isolator behind which conductors join what it is there to keep apart.

    What a switch joins is joined on purpose, and left out.
    """
    for name, isolator in plan.diode_isolators.items():
        behind = {o: _behind(name, o, battery_side, circuit) for o in isolator.outputs}
        before = _behind(name, "input", battery_side, circuit)
        if before:
            yield Unparted(isolator, (), before, _fed_output(isolator, battery_side))
        used = {output: banks for output, banks in behind.items() if banks}
        for one, other in combinations(used, 2):
            shared = tuple(bank for bank in used[one] if bank in used[other])
            if shared:
                yield Unparted(isolator, (str(one), str(other)), shared)
        if len(used) == 1 and len(isolator.outputs) > 1:
            [(output, banks)] = used.items()
            if len(banks) > 1 and not _serves_others(isolator, output, banks, circuit):
                yield Unparted(isolator, (str(output),), banks)


def _serves_others(
    isolator: Isolator, own: str, banks: Sequence[BankStudy], circuit: Circuit
) -> bool:
    """True where another output leads to another bank, behind a main switch of that."""
    posts = {Terminal(bank.name, "", "positive") for bank in banks}
    others = (Terminal(isolator.name, o, "positive") for o in isolator.outputs if o != own)
    met = (there for other in others for there in circuit.walk(other))
    plan = circuit.plan
    return any(there.component in plan.batteries and there not in posts for there in met)


def _fed_output(isolator: Isolator, battery_side: BatterySide) -> str:
    name = str(isolator.name)
    into = battery_side.feeding(Terminal(name, "input", "positive"))
    for output in isolator.outputs:
        own = battery_side.feeding(Terminal(name, output, "positive"))
        if any(isinstance(source, Charger) and source not in into for source in own):
            return str(output)
    return ""


def _behind(
    name: str, output: str, battery_side: BatterySide, circuit: Circuit
) -> tuple[BankStudy, ...]:
    """The banks that an output leads to without passing a switch."""

    def ways(here: Terminal) -> Iterator[tuple[None, Terminal]]:
        for element in circuit.around.get(here, ()):
            if isinstance(element, Passage) and isinstance(element.device, Switch):
                continue
            yield None, element.end if element.start == here else element.start

    start = Terminal(name, output, "positive")
    met = {start, *(step.there for step in steps([start], ways))}
    return tuple(
        bank for bank in battery_side.banks.values() if Terminal(bank.name, "", "positive") in met
    )


def behind_diodes(plan: Plan, battery_side: BatterySide) -> Iterator[BehindDiode]:
    """Every bank behind an isolator with every source before it whose voltage is told."""
    for name, isolator in plan.diode_isolators.items():
        drop = (
            declared(isolator.drop, f"ΔU({name})", f"voltage lost in {name}")
            if isolator.drop is not None
            else tabled(DROP, "V", f"ΔU({name})", f"voltage lost in {name}", PRACTICE)
        )
        for source in battery_side.feeding(Terminal(name, "input", "positive")):
            if source.charge_voltage is None:
                continue
            words = f"charge voltage of {source.name}"
            volts = declared(source.charge_voltage, f"Ucharge({source.name})", words)
            for output in isolator.outputs:
                for bank in battery_side.fed_by(Terminal(name, output, "positive")):
                    left = volts if isolator.sensed else volts - drop
                    left = left.named(f"U({bank.name})", f"left for {bank.name}", "V")
                    filled = _filled(bank, source, battery_side)
                    yield BehindDiode(isolator, source, bank, drop, left, filled, isolator.sensed)


def _filled(bank: BankStudy, source: Named, battery_side: BatterySide) -> bool:
    """True where a source other than one charges a bank to what fills it."""
    others = battery_side.feeding(Terminal(bank.name, "", "positive"))
    volts = [o.charge_voltage.value for o in others if o is not source and o.charge_voltage]
    return any(each >= bank.full_at.number for each in volts)
