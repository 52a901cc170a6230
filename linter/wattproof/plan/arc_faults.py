"""Devices that notice an arc and open."""

from __future__ import annotations

from pydantic import Field

from wattproof.plan.devices import Device
from wattproof.plan.fields import Current, Whole


class ArcFaultDevice(Device):
    """A device that notices the noise of an arc in a circuit and opens it."""

    rating: Current = Field(description="Rated current.", examples=["25 A"])
    poles: Whole | None = Field(None, description="Poles that it breaks.", examples=[2])
