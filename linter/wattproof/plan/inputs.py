"""Solar inputs of a controller that has several."""

from pydantic import Field

from wattproof.plan.fields import Current, Named, Voltage
from wattproof.plan.repeated import LeastInput, UsableInput


class SolarInput(Named):
    """One of several solar inputs; what it leaves out is as its controller says."""

    max_input_voltage: Voltage | None = Field(
        None, description="Highest voltage that its array may ever show it.", examples=["100 V"]
    )
    min_input_voltage: LeastInput = None
    max_input_current: Current | None = Field(
        None, description="Short-circuit current limit, where stated.", examples=["18 A"]
    )
    usable_input_current: UsableInput = None
