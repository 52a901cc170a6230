"""What leads one source to several batteries, or one of several to a consumer."""

from pydantic import Field

from wattproof.plan.devices import Device, Switch
from wattproof.plan.fields import Current, Flag, Names, VoltageDifference, needed


class Isolator(Device):
    """Diodes, or transistors that act as such, from one source to several batteries.

    Current passes from `input` to each of its outputs and never back, so that no battery feeds
    another. Terminals: `input`, and one for each output.
    """

    rating: Current = needed(description="Rated current of its input.", examples=["120 A"])
    outputs: Names = Field(description="Its outputs, by name.", examples=[["start", "house"]])
    drop: VoltageDifference | None = Field(
        None,
        description="Voltage lost from its input to an output: some 0.7 V for diodes, next to "
        "nothing for transistors.",
        examples=["0.7 V"],
    )
    sensed: Flag = Field(
        False,
        description="True where the source senses the voltage behind it, and makes up for the "
        "drop.",
        examples=[True],
    )


class Selector(Switch):
    """A switch that leads `common` to `1`, to `2`, or where it has the position to both."""

    both: Flag = Field(
        True,
        description="False where no position joins both sides.",
        examples=[False],
    )
    make_before_break: Flag | None = Field(
        None,
        description="True where it never opens on the way from one side to the other.",
        examples=[True],
    )
