"""Shade: cases that the owner wants to see computed."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from wattproof.plan.fields import Name, Named, Part, Share, Whole, one_of
from wattproof.quantities import Mistake
from wattproof.source import Text


class Shadow(Part):
    """What falls on one module of a string, or on every module of it."""

    MUST_TELL = ("module", "groups")

    string: Name = Field(description="The string that it falls on.", examples=["port"])
    module: Whole | None = Field(
        None,
        description="The module, counted from the string's negative lead; without it, all.",
        examples=[1],
    )
    groups: Whole | None = Field(
        None,
        description="How many of its groups of cells, each with its bypass diode; without it, all.",
        examples=[1],
    )
    light: Share = Field(
        description="Share of the light that still reaches the cells.", examples=["20 %"]
    )

    @model_validator(mode="after")
    def _no_brighter_than_without(self) -> Self:
        if self.light.value > 1.0:
            message = f"a shadow leaves no more than all of the light, and `{self.light}` is more"
            raise Mistake(message, "write the share that is left, `… %`", self.light.place)
        return self


class ShadeCase(Named):
    """Shadows that fall at the same time: of a roof box, an antenna, a tree."""

    MUST_TELL = ("state",)

    state: Annotated[Text, one_of("standard", "coldest", "hottest")] = Field(
        Text("standard"), description="The state in which it is computed.", examples=["hottest"]
    )
    shadows: list[Shadow] = Field(
        description="What falls on which module.",
        examples=[[{"string": "port", "module": 1, "groups": 1, "light": "20 %"}]],
    )
