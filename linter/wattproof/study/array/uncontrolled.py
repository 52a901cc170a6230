"""Strings that feed a battery or a consumer with no controller between, or their own regulator."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeVar

from wattproof.circuit import Circuit, Source, Terminal, is_of
from wattproof.plan.array import String
from wattproof.plan.fields import Named
from wattproof.plan.power import Load
from wattproof.record import record
from wattproof.study.array.strings import ModuleStudy, StringStudy
from wattproof.study.battery.bank import BankStudy
from wattproof.study.battery.side import BatterySide
from wattproof.study.site.climate import Climate
from wattproof.working import Value, declared, smallest, total

_Each = TypeVar("_Each")


@record
class StraightOn:
    """A string on something with no controller between.

    fed: what it feeds. bank: the same, where it is a bank. capacity: that of the bank, with those
    beside it that no switch parts from it (C). volts: what it shows without load on the coldest
    morning (V). current: its short-circuit current (A), at_most: the same in sun brighter than the
    label's. stands: the most that a consumer tells to stand (V).
    """

    string: String
    fed: Named
    bank: BankStudy | None
    capacity: Value | None
    volts: Value
    current: Value
    at_most: Value
    stands: Value | None = None


def straight_on(
    circuit: Circuit,
    climate: Climate,
    modules: dict[str, ModuleStudy],
    battery_side: BatterySide,
) -> Iterator[StraightOn]:
    """Every such string, in the order of the plan."""
    for each in circuit.uncontrolled:
        sources = _sources_of(each.string, circuit)
        studies = [StringStudy(source, climate, modules) for source in sources]
        volts = [study.voc("coldest") for study in studies]
        high = total(_one_of_each(sources, volts))
        name = each.string.name
        bank = battery_side.banks.get(str(each.fed.name))
        yield StraightOn(
            each.string,
            each.fed,
            bank,
            _capacity(bank, battery_side) if bank is not None else None,
            high.named(f"Voc({name})", f"open-circuit voltage of {name}, coldest", "V"),
            *_currents(each.string, sources, studies),
            _stood(each.fed),
        )


def _stood(fed: Named) -> Value | None:
    """The most (V) that something that is fed tells to stand."""
    told = fed.max_voltage if isinstance(fed, Load) else None
    words = f"voltage that {fed.name} stands"
    return declared(told, f"Umax({fed.name})", words) if told is not None else None


@record
class RegulatedOn:
    """A string that charges banks by the regulator on its modules.

    banks: the one that it is led to, those beside that, and those behind isolators. current: its
    short-circuit current, the most that its regulator passes on (A). at_most: the same in sun
    brighter than the label's. in_series: how many modules, each with its regulator, are in series.
    alone, together: what one of these and all of them give at maximum power (V).
    """

    string: String
    banks: tuple[BankStudy, ...]
    current: Value
    at_most: Value
    in_series: int
    alone: Value
    together: Value


def regulated_on(
    circuit: Circuit,
    climate: Climate,
    modules: dict[str, ModuleStudy],
    battery_side: BatterySide,
) -> Iterator[RegulatedOn]:
    """Every such string, in the order of the plan."""
    for each in circuit.regulated:
        bank = battery_side.banks.get(str(each.fed.name))
        if bank is not None:
            sources = _sources_of(each.string, circuit)
            studies = [StringStudy(source, climate, modules) for source in sources]
            behind = battery_side.fed_by(Terminal(each.string.name, "", "positive"))
            banks = dict.fromkeys([bank, *battery_side.beside(bank), *behind])
            groups = _one_of_each(sources, studies)
            name = each.string.name
            best = total([study.vmp("standard") for study in groups])
            yield RegulatedOn(
                each.string,
                tuple(banks),
                *_currents(each.string, sources, studies),
                sum(len(study.modules) for study in groups),
                smallest([module.vmp for study in groups for module in study.modules]),
                best.named(f"Vmp({name})", f"voltage at maximum power of {name}", "V"),
            )


def _sources_of(string: String, circuit: Circuit) -> list[Source]:
    return [e for e in circuit.elements if isinstance(e, Source) and e.string is string]


def _currents(
    string: String, sources: list[Source], studies: list[StringStudy]
) -> tuple[Value, Value]:
    """The short-circuit current of a string (A) by its labels, and in brighter sun."""
    by_label = _beside(string, sources, [study.isc("standard") for study in studies])
    return by_label, _beside(string, sources, [study.isc("bright") for study in studies])


def _beside(string: String, sources: list[Source], amps: list[Value]) -> Value:
    """That of its branches in parallel together (A)."""
    first = sources[0].start
    beside = [a for s, a in zip(sources, amps, strict=True) if s.start == first]
    words = f"short-circuit current of {string.name}"
    return total(beside).named(f"Isc({string.name})", words, "A")


def _capacity(bank: BankStudy, battery_side: BatterySide) -> Value:
    """Capacity (C) of a bank with what stays beside it while every switch is open."""
    plan, circuit = battery_side.circuit.plan, battery_side.circuit
    opened = [*plan.switches.values(), *plan.selectors.values()]
    start = Terminal(bank.name, "", "positive")
    near = set(circuit.walk(start, passes=lambda part: not is_of(part, opened)))
    beside = [b for b in battery_side.beside(bank) if Terminal(b.name, "", "positive") in near]
    return total([each.capacity for each in beside or [bank]])


def _one_of_each(sources: list[Source], of_each: list[_Each]) -> list[_Each]:
    """What belongs to one string of each group in series."""
    groups = {source.start: each for source, each in zip(sources, of_each, strict=True)}
    return list(groups.values())
