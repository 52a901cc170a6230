"""Inverters at a hard start, and the air around inverters and controllers."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.plan.power import Controller, Inverter
from wattproof.plan.root import Plan
from wattproof.record import record
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.units import NO_HIGHEST_AIR, NO_SURGE
from wattproof.study.site.places import hottest_of
from wattproof.working import Value, declared


@record
class Start:
    """An inverter, the power that its hardest start asks for, and what it gives then (W)."""

    inverter: Inverter
    asked: Value
    given: Value


@record
class Cooled:
    """A unit, the hottest air around it, and that up to which it gives its rating (°C)."""

    unit: Controller | Inverter
    air: Value
    limit: Value


def starts(plan: Plan, assume: Assumer) -> Iterator[Start]:
    """Every inverter of which the plan tells the hardest start."""
    for inverter in plan.all_inverters.values():
        name = inverter.name
        if inverter.largest_start is None:
            continue
        asked = declared(inverter.largest_start, f"Pstart({name})", f"hardest start on {name}")
        given = (
            declared(inverter.surge, f"Psurge({name})", f"surge power of {name}")
            if inverter.surge is not None
            else assume.value(
                NO_SURGE,
                str(name),
                inverter.at,
                number=inverter.power.value,
                power=str(inverter.power),
            )
        )
        yield Start(inverter, asked, given)


def cooled(plan: Plan, assume: Assumer) -> Iterator[Cooled]:
    """Every unit of which the plan tells the air around it, with its limit, told or not."""
    units: list[Controller | Inverter] = [*plan.controllers.values()]
    units += plan.all_inverters.values()
    for unit in units:
        air = hottest_of(unit, plan, assume)
        if air is None:
            continue
        name, words = str(unit.name), f"air up to which {unit.name} gives its rating"
        limit = (
            declared(unit.derates_above, f"Trated({name})", words)
            if unit.derates_above is not None
            else assume.value(NO_HIGHEST_AIR, name, unit.at)
        )
        yield Cooled(unit, air, limit)
