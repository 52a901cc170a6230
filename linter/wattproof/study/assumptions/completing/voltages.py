"""The nominal voltage at a place of the plan, by what else tells one there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wattproof.plan.beside import beside
from wattproof.plan.power import Battery, is_alternator
from wattproof.plan.terminals import POLES, pole_of, without_pole
from wattproof.quantities import Quantity
from wattproof.study.assumptions import labels
from wattproof.study.assumptions.completing.filling import Filling
from wattproof.working import Supposed


def joined(filling: Filling, name: str) -> float | None:
    """The nominal voltage (V) that is told most by what a battery is joined to, post to post.

    A converter tells it at the side that is wired there.
    """
    reached = (told_at(filling, other, port) for other, port in _joined_to(filling, name))
    told = [volts for volts in reached if volts is not None]
    return most_told(told)


def charged_to(filling: Filling, name: str) -> float | None:
    """The nominal voltage (V) of what a battery is charged to by what is joined to it."""
    plan = filling.plan
    found = []
    for other, port in _joined_to(filling, name):
        controller = plan.controllers.get(other) if port == "battery" else None
        source = controller or plan.all_chargers.get(other)
        told = source.charge_voltage if source is not None else None
        if told is not None:
            found.append(12.0 * max(1, round(2.0 * told.value / labels.FULL_12_V)) / 2.0)
    return most_told(found)


def given_up_at(filling: Filling, name: str) -> float | None:
    """The nominal voltage (V) of what inverters at a battery switch off at when it is empty."""
    inverters = (filling.plan.all_inverters.get(other) for other, _ in _joined_to(filling, name))
    told = [each.low_voltage for each in inverters if each is not None]
    found = [12.0 * max(1, round(low.value / labels.EMPTY_12_V)) for low in told if low is not None]
    return most_told(found)


def one_behind_another(filling: Filling, name: str) -> list[str]:
    """A battery and those that single conductors join to it in series, in the order of the plan."""
    seen, left = {name}, [name]
    batteries = filling.plan.batteries
    while left:
        for wire in filling.wires_at(left.pop()):
            ends = dict(zip(wire.components, (wire.start, wire.to), strict=True))
            poles = {end.rpartition(".")[2] for end in ends.values()}
            if poles == set(POLES) and all(end in batteries for end in ends):
                left += [end for end in ends if end not in seen]
                seen |= ends.keys()
    return [each for each in batteries if each in seen]


def has_high_input(filling: Filling, name: str) -> bool:
    """True where a battery has a controller of so high an input that none is made for 12 V."""
    controllers = filling.plan.controllers
    units = (controllers.get(other) for other, _ in _joined_to(filling, name))
    limits = (unit.max_input_voltage for unit in units if unit is not None)
    return any(volts and volts.value > labels.HIGH_INPUT.value for volts in limits)


def is_of_an_engine(filling: Filling, name: str) -> bool:
    """True for a battery that a starter hangs on, or in a vehicle the alternator, beside others.

    With no more between them than devices in the way.
    """
    plan = filling.plan
    near = beside(name, filling.wires_at, plan.in_the_way)
    alternators = {n for n, c in plan.chargers.items() if is_alternator(c)}
    of_several = plan.setting == "vehicle" and len(plan.batteries) > 1
    return not near.isdisjoint(plan.starters) or (of_several and not near.isdisjoint(alternators))


def _joined_to(filling: Filling, name: str) -> Iterator[tuple[str, str]]:
    """What a battery is joined to, post to post, by name, with the port of each wire to it."""
    plan = filling.plan
    leads_on = (plan.selectors, plan.diode_isolators, plan.busbars, plan.distribution)
    beside = {**plan.in_the_way, **{k: v for family in leads_on for k, v in family.items()}}
    seen, left = {name}, [name]
    while left:
        for wire in filling.wires_at(left.pop()):
            if pole_of(wire) == "negative":
                continue
            of_one_pole = not any(end.endswith(".negative") for end in (wire.start, wire.to))
            for end in (wire.start, wire.to):
                other, _, port = without_pole(end).partition(".")
                yield other, port
                leads = other in beside or (of_one_pole and other in plan.batteries)
                if leads and other not in seen:
                    left.append(other)
                seen.add(other)


def told_at(filling: Filling, name: str, port: str = "") -> float | None:
    """The nominal voltage (V) of one terminal, where its component tells it."""
    plan = filling.plan
    if (converter := plan.converters.get(name)) is not None:
        side = converter.input_nominal if port == "input" else converter.output_nominal
        return side.value
    if (bank := plan.batteries.get(name)) is not None:
        if bank.nominal is None or isinstance(bank.nominal, Supposed):
            return None
        return bank.nominal.value * in_series(bank)
    if name in plan.controllers and port not in ("battery", "load"):
        return None
    families = (plan.controllers, plan.all_inverters, plan.all_loads, plan.chargers, plan.starters)
    parts = (family.get(name) for family in families)
    found = next((part for part in parts if part is not None), None)
    told: Quantity | None = getattr(found, "nominal", None)
    return told.value if told is not None else None


def of_system(filling: Filling) -> float | None:
    """The nominal voltage (V) that the other parts of the plan tell, the commonest one."""
    told = [
        part.nominal.value
        for parts in (
            filling.plan.controllers,
            filling.plan.inverters,
            filling.plan.loads,
            filling.plan.chargers,
        )
        for part in parts.values()
        if part.nominal is not None
    ]
    return most_told(told)


def at(filling: Filling, name: str) -> float:
    """The nominal voltage (V), as of lead, that something hangs on or charges.

    What it is joined to tells it, else the other parts of the plan.
    """
    volts = joined(filling, name) or of_system(filling) or 12.0
    return 12.0 * round(volts / 12.0) or volts


def told_or_usual(filling: Filling, name: str, nominal: Quantity | None) -> float:
    """A nominal voltage (V), or that of what something is joined to where it is not told."""
    return nominal.value if nominal is not None else at(filling, name)


def in_series(bank: Battery) -> int:
    """How many batteries of a bank are one behind another."""
    return bank.arrangement.in_series if bank.arrangement is not None else 1


def most_told(values: Sequence[float]) -> float | None:
    """The value that most tell, of as many the smallest; None where none does."""
    return max(sorted(set(values)), key=values.count, default=None)
