"""What is drawn from banks while no engine runs, those that start engines among them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.fields import Named
from wattproof.record import record
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.charging.alternators import charging_converters
from wattproof.study.charging.reach import reach
from wattproof.study.charging.shut_off import opens_by_itself
from wattproof.study.wiring.discharging import Drawn, Group, left_on, taken_at
from wattproof.study.wiring.partings import alone
from wattproof.working import Value, total


@record
class AtRest:
    """Banks in parallel, and what is drawn from them for long with no engine running (A)."""

    drawn: Drawn
    current: Value


@record
class StartingDrawn:
    """What goes on drawing from batteries that start an engine while it does not run.

    consumers: what nothing parts from them by itself. current: theirs (A). capacity: Ah of the
    batteries. others: banks beside them that start nothing, if there are any.
    """

    banks: tuple[BankStudy, ...]
    consumers: tuple[Named, ...]
    current: Value
    capacity: Value
    others: tuple[BankStudy, ...]


def at_rest(
    groups: Sequence[Group], engines: frozenset[str], battery_side: BatterySide, circuit: Circuit
) -> Iterator[AtRest]:
    """What each group of banks gives for long; chargers from an engine's battery run with that.

    Relays and ties between banks are open then.
    """
    chargers = {str(c.name) for c in charging_converters(battery_side, circuit)}
    for drawn in (part for group in groups for part in _parted(group, battery_side)):
        current = drawn.for_long_without(chargers if _of_engine(drawn, engines) else ())
        if current is not None:
            yield AtRest(drawn, current)


def starting_drawn(
    groups: Sequence[Group],
    engines: frozenset[str],
    cranked: frozenset[str],
    battery_side: BatterySide,
    circuit: Circuit,
) -> Iterator[StartingDrawn]:
    """Every group of starting batteries with what draws on from nothing else.

    engines: banks that start an engine or are an alternator's. cranked: those on a starter, which
    alone are looked at where no other bank is beside them, and no selector spares one of them. A
    relay that opens by itself leaves them what is on their side of it.
    """
    chargers = {str(c.name) for c in charging_converters(battery_side, circuit)}
    every = battery_side.banks.values()
    others = tuple(b for b in every if engines.isdisjoint(part.name for part in b.parts))
    if not others:
        engines = frozenset() if circuit.plan.selectors else cranked
    for drawn in groups:
        banks = tuple(b for b in drawn.banks if all(part.name in engines for part in b.parts))
        if not banks:
            continue
        going_on = [
            (consumer, amps)
            for consumer, amps in drawn.consumers
            if str(consumer.name) not in chargers
            and getattr(consumer, "short_duty", None) is None
            and not getattr(consumer, "critical", False)
            and not _saved(consumer, banks, circuit)
            and (len(banks) == len(drawn.banks) or _left_to(consumer, banks, drawn.banks, circuit))
        ]
        if going_on:
            name = banks[0].name
            words = f"current that {name} goes on giving"
            current = total([amps for _, amps in going_on]).named(f"Irest({name})", words, "A")
            capacity = total([bank.capacity for bank in banks])
            consumers = tuple(consumer for consumer, _ in going_on)
            yield StartingDrawn(banks, consumers, current, capacity, others)


def _parted(group: Group, battery_side: BatterySide) -> Iterator[Drawn]:
    """A group, or each of its sides that relays and ties part, with what is drawn there."""
    sides = [alone(bank, battery_side, turned=False) for bank in group.banks]
    apart = {each.banks: each for each in sides if each is not None}
    if not apart:
        yield group
    circuit = battery_side.circuit
    left = (left_on(group, each.banks, each.joined, circuit) for each in apart.values())
    yield from filter(None, left)


def _of_engine(drawn: Drawn, engines: frozenset[str]) -> bool:
    return all(part.name in engines for bank in drawn.banks for part in bank.parts)


def _left_to(
    consumer: Named, banks: Sequence[BankStudy], group: Sequence[BankStudy], circuit: Circuit
) -> bool:
    """True where relays that open by themselves leave it on some banks of a group alone."""
    relays = [switch for switch in circuit.plan.switches.values() if opens_by_itself(switch)]
    reached = reach(taken_at(consumer), circuit, relays)
    on = [bank for bank in group if not reached.isdisjoint(_posts((bank,)))]
    return bool(on) and all(bank in banks for bank in on)


def _saved(consumer: Named, banks: tuple[BankStudy, ...], circuit: Circuit) -> bool:
    """True where a switch parts it from the batteries before these are empty."""
    posts, start = _posts(banks), taken_at(consumer)
    opening = [switch for switch in circuit.plan.switches.values() if opens_by_itself(switch)]
    return any(posts.isdisjoint(reach(start, circuit, [switch])) for switch in opening) and (
        not posts.isdisjoint(reach(start, circuit))
    )


def _posts(banks: Sequence[BankStudy]) -> set[Terminal]:
    return {Terminal(part.name, "", "positive") for bank in banks for part in bank.parts}
