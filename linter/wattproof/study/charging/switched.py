"""Whether anything that a hand can open stands between a bank and what hangs on it."""

from __future__ import annotations

from collections.abc import Container, Iterator

from wattproof.circuit import Circuit, Part, Terminal
from wattproof.plan.converting import Converter
from wattproof.plan.fields import Named
from wattproof.plan.power import Inverter, Load
from wattproof.plan.terminals import POLES, input_port
from wattproof.record import record
from wattproof.study.array.switching import opens_by_hand
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.working import Value, total


@record
class Unswitched:
    """A bank, and the consumers on it that nothing cuts off by hand.

    current: of these together (A).
    """

    bank: BankStudy
    consumers: tuple[Named, ...]
    current: Value


def unswitched(battery_side: BatterySide, circuit: Circuit) -> Iterator[Unswitched]:
    """Every bank with consumers that no switch, breaker or plug in either pole parts from it."""
    seen: set[Terminal] = set()
    for bank in battery_side.wholes:
        posts = [Terminal(part.name, "", pole) for part in bank.parts for pole in POLES]
        parted = any(part.battery.removable for part in bank.parts) or _has_breakers(bank, circuit)
        if posts[0] in seen or parted:
            continue
        near = circuit.walk(*posts, passes=lambda part: not _is_parted(part))
        seen.update(near)
        drawn = [
            (component, amps)
            for name, component in battery_side.components.items()
            if all(
                _is_near(Terminal(name, input_port(component), pole), near, circuit)
                for pole in POLES
            )
            and isinstance(component, Load | Inverter | Converter)
            and not getattr(component, "critical", False)
            and not battery_side.banks_of(Terminal(name, "output", "positive"))
            and (amps := battery_side.drawn(component, input_port(component))) is not None
        ]
        if drawn:
            words = f"what hangs on {bank.name} draws together"
            current = total([amps for _, amps in drawn]).named(f"I({bank.name})", words, "A")
            yield Unswitched(bank, tuple(component for component, _ in drawn), current)


def _has_breakers(bank: BankStudy, circuit: Circuit) -> bool:
    """True for a bank each of whose packs has a breaker of its own, told in short form."""
    packs = [part.battery.each_pack for part in bank.parts]
    return any(pack is not None and pack.fuse in circuit.plan.breakers for pack in packs)


def _is_parted(part: Part) -> bool:
    """True for what a hand opens, and for a wire with a plug."""
    return opens_by_hand(part) or bool(part.wire is not None and part.wire.plug)


def _is_near(end: Terminal, near: Container[Terminal], circuit: Circuit) -> bool:
    """True for a terminal among some; a negative that no wire leads to is that of the body."""
    return end in near or (end.pole == "negative" and end not in circuit.around)
