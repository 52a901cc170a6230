"""What keeps batteries warm."""

from __future__ import annotations

from pydantic import Field

from wattproof.plan.fields import Name, Temperature
from wattproof.plan.power import Load
from wattproof.plan.repeated import InPlace


class Heater(Load):
    """A heater of a battery. It draws as a load does; give its current, or its power."""

    warms: Name = Field(description="The battery that it warms.", examples=["house"])
    keeps: Temperature | None = Field(
        None,
        description="Temperature below which the battery does not fall while it works.",
        examples=["5 °C"],
    )
    place: InPlace = None
