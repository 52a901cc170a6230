"""Devices that notice an arc and open."""

from __future__ import annotations

from pydantic import Field

from wattproof.plan.devices import Device
from wattproof.plan.fields import Current
from wattproof.plan.repeated import PolesBroken


class ArcFaultDevice(Device):
    """A device that notices the noise of an arc in a circuit and opens it."""

    rating: Current = Field(description="Rated current.", examples=["25 A"])
    poles: PolesBroken = None
