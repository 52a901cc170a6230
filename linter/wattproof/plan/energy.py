"""Energy: how much sun is reckoned with, and what is used in a day."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple, Self

from pydantic import Field, model_validator

from wattproof.plan.fields import Named, Part, Power, Reader, nearest, quantity, read_name
from wattproof.quantities import Mistake, Quantity
from wattproof.source import Block, Place, Problem, Text

if TYPE_CHECKING:
    from wattproof.plan.root import Plan

SEASONS = ("winter", "spring", "summer", "autumn")
MONTHS = (
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
)
YEAR = "year"
"""The only period of a plan that tells no seasons apart."""


class ByPeriod(NamedTuple):
    """A quantity that is the same all the year, or one for each period, by name.

    place: where it stands. year: the one value, None where there are several.
    """

    place: Place
    year: Quantity | None
    each: dict[Text, Quantity]

    def of(self, period: str) -> Quantity:
        """The value in a period of the plan. Raises KeyError where it says nothing of it."""
        return self.year if self.year is not None else self.each[Text(period)]


def by_period(dimension: str) -> Reader:
    """A field that holds a quantity, or a mapping of periods to quantities."""
    one = quantity(dimension)

    def read(node: Any) -> ByPeriod:
        if not isinstance(node, Block):
            found: Quantity = one.read(node)
            return ByPeriod(found.place, found, {})
        if not node:
            message, instead = "this mapping is empty", "name a period, such as `winter`"
            raise Mistake(message, instead, node.place)
        return ByPeriod(node.place, None, {read_name(k): one.read(v) for k, v in node.items()})

    def schema() -> dict[str, Any]:
        value = one.schema()
        each = {"type": "object", "additionalProperties": value, "minProperties": 1}
        return {"anyOf": [value, each]}

    return Reader(read, schema)


class Use(Named):
    """What a load, or all that runs on an inverter, takes in a day. The key is its name."""

    hours: Annotated[ByPeriod, by_period("time a day")] | None = Field(
        None,
        description="Hours a day at its rated power: one value, or one for each period.",
        examples=["5 h", {"winter": "6 h", "summer": "3 h"}],
    )
    energy: Annotated[ByPeriod, by_period("energy")] | None = Field(
        None,
        description="Energy a day, of an inverter at its outlets: one value, or one for each "
        "period.",
        examples=["300 Wh", {"winter": "400 Wh", "summer": "250 Wh"}],
    )
    switched_on: Annotated[ByPeriod, by_period("time a day")] | None = Field(
        None,
        description="Hours a day that an inverter is switched on, in use or not: one value, or one "
        "for each period.",
        examples=["4 h"],
    )

    @model_validator(mode="after")
    def _one_way_of_saying_it(self) -> Self:
        if self.hours is not None and self.energy is not None:
            message = "`hours` and `energy` say the same thing twice"
            raise Mistake(message, "keep one of them", self.energy.place)
        if self.hours is None and self.energy is None and self.switched_on is None:
            raise Mistake(
                "a use says for how many hours a day, or how much energy",
                "write `hours: 5 h` or `energy: 300 Wh`",
            )
        return self

    @property
    def written(self) -> dict[str, ByPeriod]:
        """The values that it gives, by key."""
        keys = ("hours", "energy", "switched_on")
        return {key: getattr(self, key) for key in keys if getattr(self, key) is not None}


class Energy(Part):
    """Sun and use, from which a day's balance is reckoned."""

    sun_hours: Annotated[ByPeriod, by_period("time of full sun")] | None = Field(
        None,
        description="Peak sun hours a day on the modules as they lie (kWh/m² a day is the same "
        "number), shade and weather included: one value, or one for each season, month or named "
        "period.",
        examples=[{"winter": "1.2 h", "summer": "5 h"}, "3.5 h"],
    )
    uses: dict[str, Use] = Field(
        default_factory=dict, description="What loads and inverters take in a day, by their names."
    )
    standby: Power | None = Field(
        None,
        description="What is never switched off: controllers, displays, the management of "
        "batteries.",
        examples=["0.5 W"],
    )


def periods(plan: Plan) -> tuple[Text, ...]:
    """The periods that a plan tells apart, in its order; only the year where it tells none."""
    energy = plan.energy
    assert energy is not None
    if energy.sun_hours is not None:
        return tuple(energy.sun_hours.each) or (Text(YEAR),)
    written = [each for use in energy.uses.values() for each in use.written.values()]
    named = tuple(dict.fromkeys(name for each in written for name in each.each))
    if named or plan.site.latitude is None:
        return named or (Text(YEAR),)
    return tuple(Text(season) for season in SEASONS)


def energy_problems(plan: Plan, unreadable: set[str]) -> Iterator[Problem]:
    """Uses of what is no consumer, and periods that do not agree.

    unreadable: names that are declared but could not be read; they are not missing.
    """
    if plan.energy is None:
        return
    for use in plan.energy.uses.values():
        if use.name not in unreadable:
            yield from _not_a_consumer(use, plan)
        for key, each in use.written.items():
            yield from _other_periods(use, key, each, plan)


def _not_a_consumer(use: Use, plan: Plan) -> Iterator[Problem]:
    if use.name in plan.all_inverters:
        return
    if use.name in plan.all_loads:
        if use.switched_on is not None:
            message = f"`{use.name}` is a load; `switched_on` is for inverters"
            yield Problem(use.switched_on.place, message, "write `hours`, or delete the key")
        return
    near = nearest(use.name, [*plan.all_loads, *plan.all_inverters])
    instead = f"write `{near}`" if near else "declare it under `loads` or `inverters`"
    yield Problem(use.at, f"there is no load or inverter `{use.name}`", instead)


def _other_periods(use: Use, key: str, each: ByPeriod, plan: Plan) -> Iterator[Problem]:
    if each.year is not None:
        return
    assert plan.energy is not None
    sun, known = plan.energy.sun_hours, periods(plan)
    for name in each.each:
        if sun is not None and name not in known:
            near = nearest(name, known)
            instead = f"write `{near}`" if near else "add it to `sun_hours`, by name"
            yield Problem(name.place, f"`sun_hours` has no period `{name}`", instead)
        elif sun is None and name not in (*SEASONS, *MONTHS):
            near = nearest(name, (*SEASONS, *MONTHS))
            give = "give its sun hours under `sun_hours`"
            instead = f"write `{near}`, or {give}" if near else give
            yield Problem(name.place, f"`{name}` is neither a season nor a month", instead)
    missing = [name for name in known if name not in each.each]
    if missing:
        message = f"`{key}` of `{use.name}` says nothing of `{missing[0]}`"
        zero = "0 Wh" if key == "energy" else "0 h"
        yield Problem(each.place, message, f"add `{missing[0]}: {zero}` or what it is then")
