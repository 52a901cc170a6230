"""Shade: cases that the owner wants to see computed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated, Self

from pydantic import Field, model_validator

from wattproof.plan.array import String
from wattproof.plan.fields import Name, Named, Part, Share, Whole, one_of
from wattproof.quantities import Mistake
from wattproof.source import Problem, Text

if TYPE_CHECKING:
    from wattproof.plan.root import Plan


class Shadow(Part):
    """What falls on one module of a string, or on every module of it."""

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

    state: Annotated[Text, one_of("standard", "coldest", "hottest")] = Field(
        Text("standard"), description="The state in which it is computed.", examples=["hottest"]
    )
    shadows: list[Shadow] = Field(
        description="What falls on which module.",
        examples=[[{"string": "port", "module": 1, "groups": 1, "light": "20 %"}]],
    )


def shade_problems(plan: Plan) -> Iterator[Problem]:
    """Shadows on modules and groups of cells that their strings do not have."""
    for case in plan.shade.values():
        for shadow in case.shadows:
            string = plan.strings.get(shadow.string)
            if string is not None:
                yield from _not_there(shadow, string, plan)


def _not_there(shadow: Shadow, string: String, plan: Plan) -> Iterator[Problem]:
    layout = string.arrangement
    count = len(string.modules or ()) or int(string.series or 1)
    count = layout.inner * layout.outer if layout is not None else count
    number = shadow.module
    if number is not None and number > count:
        message = f"`{string.name}` has no module {number}: there are {count}"
        yield Problem(number.place, message, "count from its negative lead; without `module`, all")
        return
    names = string.modules or (string.module,)
    shaded = names if number is None or len(names) == 1 else names[number - 1 : number]
    sheets = [plan.datasheets.modules.get(name) for name in shaded if name is not None]
    diodes = [s.bypass_diodes for s in sheets if s is not None and s.bypass_diodes is not None]
    if shadow.groups is not None and diodes and shadow.groups > max(1, *diodes):
        message = f"no module of `{string.name}` has {shadow.groups} groups of cells"
        instead = f"write at most {max(1, *diodes)}, one for each bypass diode"
        yield Problem(shadow.groups.place, message, instead)
