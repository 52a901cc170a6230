"""Energy: how much sun is reckoned with, and what is used in a day."""

from collections.abc import Callable
from typing import Annotated, Any, NamedTuple, Self

from pydantic import Field, model_validator

from wattproof.plan.fields import (
    Named,
    Part,
    Power,
    Reader,
    list_of,
    one_of,
    quantity,
    read_name,
)
from wattproof.quantities import Mistake, Quantity
from wattproof.source import Block, Place, Text

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
SKIES = ("sunny", "mixed", "dull")
"""How much of their clear days' sun the months of a place bring."""
APPLIANCES = (
    "compressor-refrigerator",
    "absorption-refrigerator",
    "satellite-terminal",
    "laptop",
    "kettle",
    "coffee-maker",
    "induction-hob",
    "television",
    "lights",
    "fan",
    "water-pump",
    "air-heater",
)
"""What travellers run, by the trade's names."""
_APPLIANCE = one_of(*APPLIANCES)
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


class SkyByPeriod(NamedTuple):
    """A kind of sky that is the same all the year, or one for each season, month or period.

    place: where it stands. year: the one word, None where there are several.
    """

    place: Place
    year: Text | None
    each: dict[Text, Text]

    def of(self, period: str, season: str) -> Text | None:
        """The sky of a period, else of the season that it lies in; None where nothing is said."""
        if self.year is not None:
            return self.year
        return self.each.get(Text(period)) or self.each.get(Text(season))


def by_period(dimension: str) -> Reader:
    """A field that holds a quantity, or a mapping of periods to quantities."""
    return _by_period(quantity(dimension), ByPeriod)


def sky_by_period() -> Reader:
    """A field that holds a kind of sky, or a mapping of periods to kinds of sky."""
    return _by_period(one_of(*SKIES), SkyByPeriod)


def _by_period(one: Reader, made: Callable[[Place, Any, dict[Text, Any]], Any]) -> Reader:
    """A field that holds one value, or a mapping of periods to values."""

    def read(node: Any) -> Any:
        if not isinstance(node, Block):
            found = one.read(node)
            return made(found.place, found, {})
        if not node:
            message, instead = "this mapping is empty", "name a period, such as `winter`"
            raise Mistake(message, instead, node.place)
        return made(node.place, None, {read_name(k): one.read(v) for k, v in node.items()})

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
    appliances: (
        Annotated[tuple[Text, ...], list_of(_APPLIANCE.read, _APPLIANCE.schema())] | None
    ) = Field(
        None,
        description="What it is, or what runs on an inverter, where nobody measured for how long: "
        "its hours, or its energy at the outlets, are then those of common practice.",
        examples=["compressor-refrigerator", ["kettle", "laptop"]],
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
        said = self.hours or self.energy
        if said is not None and self.appliances is not None:
            message = "`appliances` stand for hours and energy that nobody measured"
            raise Mistake(message, "keep what was measured, and delete `appliances`", said.place)
        if said is None and self.appliances is None and self.switched_on is None:
            raise Mistake(
                "a use says for how many hours a day, or how much energy",
                "write `hours: 5 h` or `energy: 300 Wh`, or what it is as `appliances`",
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
    sky: Annotated[SkyByPeriod, sky_by_period()] | None = Field(
        None,
        description="Where no sun hours are known: `sunny` where most days of a month are clear, "
        "`mixed` where clear days and clouds take turns, `dull` where most are overcast; one word, "
        "or one for each season, month or named period. Needs the latitude of the site.",
        examples=["mixed", {"winter": "dull", "summer": "mixed"}],
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

    @model_validator(mode="after")
    def _sun_said_once(self) -> Self:
        if self.sun_hours is not None and self.sky is not None:
            message = "`sun_hours` have the sky in them already, and `sky` says it again"
            raise Mistake(message, "keep `sun_hours` where they are from a table", self.sky.place)
        return self
