"""What a plan is of, in a few facts: for a list of many plans, among which one is looked for."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from wattproof.working import Value, total

if TYPE_CHECKING:
    from wattproof.study import Study
    from wattproof.study.array.arrays import ArrayStudy


class AtController(NamedTuple):
    """What stands at one solar input.

    cold: the open-circuit voltage of the array there on the coldest bright morning (V). limit: the
    highest that the input stands (V).
    """

    name: str
    cold: Value
    limit: Value


class Bank(NamedTuple):
    """A bank of batteries. nominal: its voltage (V). capacity: in C, shown in Ah."""

    name: str
    chemistry: str
    nominal: Value
    capacity: Value


class Facts(NamedTuple):
    """A plan in a few facts.

    modules: how many it has. power: of all of them by their labels (W); None without any. coldest:
    the air that it was computed for (°C). open: whether it leaves something to be chosen.
    """

    setting: str
    modules: int
    power: Value | None
    coldest: Value
    inputs: tuple[AtController, ...]
    banks: tuple[Bank, ...]
    open: bool


def facts_of(study: Study) -> Facts:
    """The facts of a plan, in the order of the plan."""
    modules = study.array.every_module
    power = total([module.pmax for module in modules]) if modules else None
    return Facts(
        setting=str(study.plan.setting),
        modules=len(modules),
        power=power.named("P", "power of all modules by their labels", "W") if power else None,
        coldest=study.site.climate.coldest,
        inputs=tuple(
            AtController(_input(array), array.voc("coldest"), array.input_limit)
            for array in study.array.arrays
        ),
        banks=tuple(
            Bank(bank.name, str(bank.battery.chemistry), bank.nominal, bank.capacity)
            for bank in study.battery.side.wholes
        ),
        open=any(True for _ in study.plan.opens()),
    )


def _input(array: ArrayStudy) -> str:
    """The solar input that an array is at: of a controller with one, its name."""
    name, port = str(array.controller.name), array.array.port
    return name if port == "pv" else f"{name}.{port}"
