"""What all sources together can charge a bank with."""

from __future__ import annotations

from wattproof.circuit import Circuit, Terminal
from wattproof.plan.fields import Named
from wattproof.plan.power import Charger, Controller
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.assumptions.batteries import LEAD
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.limits import SLACK
from wattproof.study.wiring.ports import at_once
from wattproof.working import Value, smallest, total


@record
class Charging:
    """A bank and what charges it.

    sources: those that can work at once, each with the most it can give (A). whole: their sum (A).
    current: the bank's share of it (A); where other banks are in parallel, by capacity.
    by_alternator: True where an alternator charges it straight, whether it is counted or not.
    """

    bank: BankStudy
    sources: tuple[tuple[Named, Value], ...]
    whole: Value
    current: Value
    by_alternator: bool = False

    @property
    def shared(self) -> bool:
        """True where other banks in parallel take a share of the current."""
        return self.current.number < self.whole.number * (1.0 - SLACK)


def charging(
    bank: BankStudy,
    battery_side: BatterySide,
    circuit: Circuit,
    arrays: tuple[ArrayStudy, ...],
) -> Charging | None:
    """What charges a bank; None where nothing does.

    An alternator counts where the bank's label limits the current, or where it is lithium. A lead
    battery at an alternator's fixed voltage takes what it can, as starter batteries have always.
    """
    obeys = bank.battery.max_charge_current is None and bank.battery.chemistry in LEAD
    by_controller: dict[str, list[ArrayStudy]] = {}
    for array in arrays:
        by_controller.setdefault(str(array.controller.name), []).append(array)
    charging = battery_side.charges(bank)
    by_alternator = any(isinstance(s, Charger) and s.kind == "alternator" for s, _ in charging)
    sources = [
        (source, _most(source, output, bank, by_controller.get(str(source.name), []), circuit))
        for source, output in charging
        if not (obeys and isinstance(source, Charger) and source.kind == "alternator")
    ]
    if not sources:
        return None
    counts = at_once([(source, amps.number) for source, amps in sources])
    together = [s for s, counted in zip(sources, counts, strict=True) if counted]
    words = f"charge current of {bank.name} from all sources at once"
    whole = total([current for _, current in together])
    share = _share(bank, battery_side)
    current = whole if share is None else whole * share
    current = current.named(f"I({bank.name})", words, "A")
    return Charging(bank, tuple(together), whole, current, by_alternator)


def _share(bank: BankStudy, battery_side: BatterySide) -> Value | None:
    """The bank's share of all capacity in parallel with it; None where it is alone."""
    parallel = battery_side.beside(bank)
    if len(parallel) < 2:
        return None
    share = bank.capacity / total([other.capacity for other in parallel])
    return share.named(f"s({bank.name})", f"share of {bank.name} in the parallel banks", "")


def _most(
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
