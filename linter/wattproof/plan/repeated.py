"""Keys that stand in several families alike, each with its words once."""

from __future__ import annotations

from typing import Annotated, TypeAlias

from pydantic import Field

from wattproof.plan.feeding import FeedsField
from wattproof.plan.fields import (
    ConductorSizeField,
    Current,
    Flag,
    NameOrUnknown,
    Temperature,
    Voltage,
    Whole,
)

InPlace: TypeAlias = Annotated[
    NameOrUnknown | None, Field(description="The surroundings it is in.", examples=["cabin"])
]
IgnitionProtected: TypeAlias = Annotated[
    Flag | None,
    Field(
        description="True where it is marked as protected against igniting gas or vapour.",
        examples=[True],
    ),
]
LargestConductor: TypeAlias = Annotated[
    ConductorSizeField | None,
    Field(description="Largest conductor that its terminals take.", examples=["6 AWG"]),
]
NominalVoltage: TypeAlias = Annotated[
    Voltage | None, Field(description="Nominal voltage.", examples=["12 V"])
]
PolesBroken: TypeAlias = Annotated[
    Whole | None, Field(description="Poles that it breaks.", examples=[2])
]
LeastInput: TypeAlias = Annotated[
    Voltage | None,
    Field(description="Lowest array voltage at which it works, where stated.", examples=["15 V"]),
]
UsableInput: TypeAlias = Annotated[
    Current | None,
    Field(
        description="Most current that it takes from its array, where its label tells one beside "
        "the limit for a short circuit; more is left unused and harms nothing.",
        examples=["13 A"],
    ),
]
ColdCutoff: TypeAlias = Annotated[
    Flag, Field(description="True where it stops charging a cold battery.", examples=[True])
]
DeratesAbove: TypeAlias = Annotated[
    Temperature | None,
    Field(description="Air temperature above which it gives less than rated.", examples=["40 °C"]),
]
Feeds: TypeAlias = Annotated[
    FeedsField | None,
    Field(
        description="What it feeds, by wires that are not told yet; in place of `wires`.",
        examples=["house"],
    ),
]
