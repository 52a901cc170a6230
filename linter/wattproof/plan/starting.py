"""What starts an engine."""

from pydantic import Field

from wattproof.plan.fields import ConductorSizeField, Current, Named, NameOrUnknown, needed
from wattproof.plan.repeated import IgnitionProtected, NominalVoltage


class Starter(Named):
    """A starter motor: hundreds of amperes, for seconds. Its negative may be the engine."""

    current: Current = needed(description="Current while it turns the engine.", examples=["250 A"])
    nominal: NominalVoltage = None
    max_conductor: ConductorSizeField | None = Field(
        None, description="Largest conductor that its terminals take.", examples=["2/0 AWG"]
    )
    place: NameOrUnknown | None = Field(
        None, description="The surroundings it is in.", examples=["engine"]
    )
    ignition_protected: IgnitionProtected = None
