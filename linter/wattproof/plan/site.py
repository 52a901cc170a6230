"""Where the installation must work: temperatures and the surroundings of wires and devices."""

from typing import Annotated, Final, Self

from pydantic import Field, model_validator

from wattproof.plan.fields import (
    AirTemperature,
    Flag,
    Height,
    Latitude,
    Length,
    Named,
    Part,
    PlaceTemperature,
    list_of,
    one_of,
)
from wattproof.quantities import Mistake, Quantity
from wattproof.source import Text

OBSTACLES: Final = ("trees", "mast", "rigging", "roof-box", "antenna", "building", "mountains")
"""What throws shadows onto modules, as owners name it."""
NAMED_AFTER: Final = ("trees", "mast", "rigging")
"""Those after which a place is only named where they are: a roof box joins cables as well."""
_OBSTACLE: Final = one_of(*OBSTACLES)


class Surroundings(Named):
    """A named place that wires and devices are in."""

    ambient: PlaceTemperature | None = Field(
        None, description="Hottest air around the wire or device.", examples=["65 °C"]
    )
    coldest: PlaceTemperature | None = Field(
        None,
        description="Coldest air in this place, where it is kept warmer than outside.",
        examples=["5 °C"],
    )
    over_roof: Length | None = Field(
        None,
        description="Height of the cables over a roof in the sun, where they run along one.",
        examples=["15 mm"],
    )
    sunlight: Flag = Field(False, description="True where the sun reaches it.", examples=[True])
    wet: Flag = Field(False, description="True where rain or spray reaches it.", examples=[True])
    engine_space: Flag = Field(
        False, description="True in the space of an engine.", examples=[False]
    )
    living_space: Flag = Field(
        False, description="True where people sit or sleep in the same air.", examples=[True]
    )
    vented: Flag | None = Field(
        None,
        description="True where gas from batteries is led outside, from the top of their box.",
        examples=[True],
    )
    gas_locker: Flag = Field(
        False, description="True in the locker of gas bottles.", examples=[False]
    )
    petrol: Flag = Field(
        False,
        description="True where petrol vapour can gather: the closed space of a petrol engine or "
        "tank.",
        examples=[False],
    )
    on_building: Flag = Field(
        False, description="True on or in a building, for an array.", examples=[True]
    )

    @model_validator(mode="after")
    def _colder_than_hot(self) -> Self:
        refuse_above(self.coldest, self.ambient, "coldest", "ambient")
        return self


class Site(Part):
    """The climate that the installation must stand, wherever it will go."""

    coldest: AirTemperature | None = Field(
        None,
        description="Lowest air temperature with daylight, at the coldest place it will go to.",
        examples=["-18 °C"],
    )
    hottest: AirTemperature | None = Field(
        None, description="Highest air temperature in the shade.", examples=["40 °C"]
    )
    latitude: Latitude | None = Field(
        None,
        description="Latitude, for the height of the sun: north positive, south negative.",
        examples=["47°"],
    )
    height: Height | None = Field(
        None,
        description="Height above the sea: thinner air lets more of the sun through.",
        examples=["620 m"],
    )
    obstacles: Annotated[tuple[Text, ...], list_of(_OBSTACLE.read, _OBSTACLE.schema())] | None = (
        Field(
            None,
            description="What may throw a shadow onto the modules. What it shades stands under "
            "`shade`.",
            examples=["trees", ["mast", "roof-box"]],
        )
    )
    places: dict[str, Surroundings] = Field(
        default_factory=dict, description="Named surroundings that wires and devices are in."
    )

    @property
    def obstacles_in_sight(self) -> tuple[str, ...]:
        """What may throw a shadow: as told, else as places of the plan are named after it."""
        if self.obstacles is not None:
            return self.obstacles
        places = [f"-{name}-" for name in self.places]
        words = {each: (f"-{each}-", f"-{each.removesuffix('s')}-") for each in NAMED_AFTER}
        return tuple(
            o for o, either in words.items() if any(w in p for w in either for p in places)
        )

    @model_validator(mode="after")
    def _colder_than_hot(self) -> Self:
        refuse_above(self.coldest, self.hottest, "coldest", "hottest")
        return self


def refuse_above(low: Quantity | None, high: Quantity | None, lower: str, higher: str) -> None:
    """Raise Mistake where what is the lower of two is the higher: a sign is lost, or they changed
    places. lower, higher: their keys."""
    if low is not None and high is not None and low.value > high.value:
        message = f"`{lower}: {low}` is above `{higher}: {high}`"
        raise Mistake(
            message, "look for a lost minus sign, or for two that changed places", low.place
        )
