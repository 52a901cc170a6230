"""Whether anything that a hand can open stands between a bank and what hangs on it."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Circuit, Passage, Terminal
from wattproof.circuit.walk import reached
from wattproof.plan.converting import Converter
from wattproof.plan.fields import Named
from wattproof.plan.power import Inverter, Load
from wattproof.plan.terminals import POLES
from wattproof.record import record
from wattproof.study.array.switching import opens_by_hand
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.working import Value, total


@record
class Unswitched:
    """A bank that nothing cuts off by hand, and what is drawn from it for good.

    current: of all consumers together (A).
    """

    bank: BankStudy
    consumers: tuple[Named, ...]
    current: Value


def unswitched(battery_side: BatterySide, circuit: Circuit) -> Iterator[Unswitched]:
    """Every bank with consumers and no switch or breaker in either pole, and no plug."""
    seen: set[Terminal] = set()
    for bank in battery_side.wholes:
        posts = [Terminal(part.name, "", pole) for part in bank.parts for pole in POLES]
        net = circuit.nets.net(Terminal(bank.name, "", "positive"))
        if net in seen or any(part.battery.removable for part in bank.parts):
            continue
        seen.add(net)
        near = reached(posts, lambda here: (there for _, there in circuit.ways(here)))
        elements = {element for terminal in near for element in circuit.around.get(terminal, ())}
        hands = any(isinstance(e, Passage) and opens_by_hand(e) for e in elements)
        plugs = any(getattr(getattr(e, "wire", None), "plug", None) for e in elements)
        drawn = [
            (component, amps)
            for name, component in battery_side.components.items()
            if Terminal(name, _port(component), "positive") in near
            and isinstance(component, Load | Inverter | Converter)
            and not getattr(component, "critical", False)
            and (amps := battery_side.drawn(component, _port(component))) is not None
        ]
        if drawn and not hands and not plugs:
            words = f"what hangs on {bank.name} draws together"
            current = total([amps for _, amps in drawn]).named(f"I({bank.name})", words, "A")
            yield Unswitched(bank, tuple(component for component, _ in drawn), current)


def _port(component: Named) -> str:
    return "input" if isinstance(component, Converter) else ""
