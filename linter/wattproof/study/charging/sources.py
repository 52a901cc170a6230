"""What all sources together can charge a bank with."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wattproof.circuit import Circuit, Part, Terminal, is_overcurrent
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger, Controller, is_alternator
from wattproof.plan.terminals import output_port
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.uncontrolled import RegulatedOn
from wattproof.study.assumptions.batteries import LEAD
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.battery.bank import BankStudy, taken_from_alternator
from wattproof.study.battery.side import BatterySide
from wattproof.study.limits import SLACK
from wattproof.study.wiring.network import Network
from wattproof.study.wiring.partings import alone
from wattproof.study.wiring.ports import at_once
from wattproof.working import Value, smallest, total


@record
class Charging:
    """A bank and what charges it.

    sources: those that can work at once, each with the most it can give (A), of an alternator what
    the wires let into the bank. whole: their sum (A). current: the bank's share of it (A); where
    other banks are in parallel, by capacity.
    by_alternator: True where an alternator charges it straight, whether it is counted or not.
    alone: the same with selectors turned to it alone, or relays and ties to other banks open,
    where it takes more then. selectors, opened: the names of these.
    """

    bank: BankStudy
    sources: tuple[tuple[Named, Value], ...]
    whole: Value
    current: Value
    by_alternator: bool = False
    alone: Charging | None = None
    selectors: tuple[str, ...] = ()
    opened: tuple[str, ...] = ()

    @property
    def shared(self) -> bool:
        """True where other banks in parallel take a share of the current."""
        return self.current.number < self.whole.number * (1.0 - SLACK)


def charging(
    bank: BankStudy,
    battery_side: BatterySide,
    circuit: Circuit,
    arrays: tuple[ArrayStudy, ...],
    regulated: tuple[RegulatedOn, ...],
    network: Network,
) -> Charging | None:
    """What charges a bank; None where nothing does.

    regulated: strings that charge by the regulator on their modules.

    An alternator counts where the bank's label limits the current, or where it is lithium. A lead
    battery at an alternator's fixed voltage takes what it can, as starter batteries have always.
    """
    obeys = bank.battery.max_charge_current is None and bank.battery.chemistry in LEAD
    by_controller: dict[str, list[ArrayStudy]] = {}
    for array in arrays:
        by_controller.setdefault(str(array.controller.name), []).append(array)
    charging = battery_side.charges(bank)
    by_alternator = any(is_alternator(source) for source, _ in charging)
    sources: list[tuple[Named, Value]] = [
        (source, most_of(source, output, bank, by_controller.get(str(source.name), []), circuit))
        for source, output in charging
        if not (obeys and is_alternator(source))
    ]
    sources += [(each.string, each.current) for each in regulated if bank in each.banks]
    if not sources:
        return None
    counts = at_once([(source, amps.number) for source, amps in sources])
    together = [s for s, counted in zip(sources, counts, strict=True) if counted]
    words = f"charge current of {bank.name} from all sources at once"
    share = _share(bank, battery_side.beside(bank))
    together, current = _into(bank, together, share, network, circuit)
    whole = total([amps for _, amps in together])
    current = current.named(f"I({bank.name})", words, "A")
    found = Charging(bank, tuple(together), whole, current, by_alternator)
    return replace(found, alone=_alone(found, battery_side))


def _into(
    bank: BankStudy,
    sources: list[tuple[Named, Value]],
    share: Value | None,
    network: Network,
    circuit: Circuit,
) -> tuple[list[tuple[Named, Value]], Value]:
    """What sources give, and what of it reaches the bank (A).

    Of an alternator behind a long thin line that is its share, or what the line lets through where
    that is less; or what the fuses in its line let through for long; or what lead takes, which has
    its voltage and not its current.
    """
    given: list[tuple[Named, Value]] = []
    shared: list[Value] = []
    into: list[Value] = []
    for source, amps in sources:
        own = amps if share is None else amps * share
        lines: list[Value] = []
        if is_alternator(source):
            through = network.let_into(bank, source), _fused(bank, source, circuit), _taken(bank)
            lines = [line for line in through if line is not None and line.number < own.number]
        if lines:
            line = min(lines, key=lambda each: each.number)
            given.append((source, line))
            into.append(line)
        else:
            given.append((source, amps))
            shared.append(amps)
    if shared:
        whole = total(shared)
        into.insert(0, whole if share is None else whole * share)
    return given, total(into)


def _taken(bank: BankStudy) -> Value | None:
    """The most that a bank of lead takes at the voltage of an alternator (A); None of another."""
    if not bank.is_lead:
        return None
    words = f"current that {bank.name} takes from an alternator"
    return taken_from_alternator(bank).named(f"Itaken({bank.name})", words, "A")


def _fused(bank: BankStudy, source: Charger, circuit: Circuit) -> Value | None:
    """The least rating of the fuses and breakers that it cannot pass by on its way to a bank (A).

    None where there is none.
    """
    start = Terminal(str(source.name), str(output_port(source)), "positive")
    post = Terminal(bank.name, "", "positive")

    def is_passed_by(device: Part) -> bool:
        return post in circuit.walk(start, passes=lambda part: part is not device)

    passed = [part for part in circuit.walk(start).passed(post) if is_overcurrent(part)]
    ratings = [device_rating(device) for device in passed if not is_passed_by(device)]
    return min(ratings, key=lambda each: each.number, default=None)


def _alone(charging: Charging, side: BatterySide) -> Charging | None:
    """What a bank takes that switches leave alone; None where that is no more."""
    bank, each = charging.bank, alone(charging.bank, side)
    if each is None:
        return None
    left = tuple(
        (source, amps)
        for source, amps in charging.sources
        if Terminal(str(source.name), str(output_port(source)), "positive") in each.joined
    )
    if not left:
        return None
    whole = total([amps for _, amps in left])
    share = _share(bank, each.banks)
    current = whole if share is None else whole * share
    if current.number <= charging.current.number:
        return None
    words = f"charge current of {bank.name} alone"
    current = current.named(f"Ialone({bank.name})", words, "A")
    return Charging(
        bank,
        left,
        whole,
        current,
        charging.by_alternator,
        selectors=each.selectors,
        opened=each.opened,
    )


def _share(bank: BankStudy, parallel: Sequence[BankStudy]) -> Value | None:
    """The bank's share of all capacity in parallel with it; None where it is alone."""
    if len(parallel) < 2:
        return None
    share = bank.capacity / total([other.capacity for other in parallel])
    return share.named(f"s({bank.name})", f"share of {bank.name} in the parallel banks", "")


def most_of(
    source: Named, output: Value, bank: BankStudy, arrays: list[ArrayStudy], circuit: Circuit
) -> Value:
    """The most that a source can give (A): its output, or less where its array is small."""
    if not isinstance(source, Controller) or not arrays:
        return output
    if Terminal(source.name, "alternator", "positive") in circuit.around:
        return output
    if source.kind == "pwm":
        given = _together([array.isc("standard") for array in arrays])
    else:
        given = _together([array.power("standard") for array in arrays]) / bank.nominal
        given = given.named(f"Iarray({source.name})", f"what the array gives {source.name}", "A")
    if given.number >= output.number:
        return output
    words = f"charge current of {source.name}"
    return smallest([output, given]).named(f"I({source.name})", words, "A")


def _together(each: list[Value]) -> Value:
    """The sum over the inputs of a controller."""
    return each[0] if len(each) == 1 else total(each)
