"""Devices in the way of the current: fuses, breakers, switches, busbars, panels, arresters."""

from typing import Annotated

from pydantic import Field

from wattproof.plan.fields import (
    Current,
    Flag,
    Name,
    Named,
    Reference,
    Voltage,
    needed,
)
from wattproof.plan.repeated import IgnitionProtected, InPlace, LargestConductor, PolesBroken
from wattproof.plan.styles import described, style_of
from wattproof.source import Text


class Device(Named):
    """What every device in the way of the current has printed on it."""

    voltage: Voltage | None = Field(
        None, description="Rated DC voltage as printed.", examples=["125 V"]
    )
    dc: Flag | None = Field(
        None,
        description="True where it is marked for DC, false where only for AC.",
        examples=[True],
    )
    max_conductor: LargestConductor = None
    place: InPlace = None
    ignition_protected: IgnitionProtected = None


class Fuse(Device):
    """A fuse in its holder."""

    MAY_BE_OPEN = ("rating", "style")

    rating: Current = needed(description="Rated current.", examples=["40 A"])
    interrupt: Current | None = Field(
        None,
        description="Largest fault current that it can break, at its voltage.",
        examples=["20 kA"],
    )
    style: Annotated[Text, style_of("fuse", "breaker")] | None = Field(
        None, description=described("fuse"), examples=["class-t"]
    )


class Breaker(Device):
    """A circuit breaker."""

    MAY_BE_OPEN = ("rating", "style")

    rating: Current = needed(description="Rated current.", examples=["40 A"])
    interrupt: Current | None = Field(
        None,
        description="Largest fault current that it can break, at its voltage.",
        examples=["5 kA"],
    )
    poles: PolesBroken = None
    style: Annotated[Text, style_of("breaker")] | None = Field(
        None, description=described("breaker"), examples=["rail-breaker"]
    )
    polarised: Flag = Field(
        False, description="True where it is marked with a line and a load side.", examples=[False]
    )


class Switch(Device):
    """A switch or isolator."""

    MAY_BE_OPEN = ("rating",)

    rating: Current = needed(description="Rated current.", examples=["30 A"])
    poles: PolesBroken = None
    load_break: Flag | None = Field(
        None, description="True where it may be opened under load.", examples=[True]
    )
    closes_above: Voltage | None = Field(
        None,
        description="Battery voltage above which it closes by itself, for a relay that senses it.",
        examples=["13.3 V"],
    )
    opens_below: Voltage | None = Field(
        None,
        description="Battery voltage below which it opens by itself, to save the battery.",
        examples=["11.5 V"],
    )
    opened_by: Name | None = Field(
        None,
        description="The battery whose management opens it.",
        examples=["house"],
    )


class Busbar(Named):
    """A bar or stud where conductors of one pole, or of both on their own bars, meet."""

    MAY_BE_OPEN = ("rating",)

    rating: Current | None = Field(None, description="Rated current.", examples=["150 A"])
    voltage: Voltage | None = Field(None, description="Rated DC voltage.", examples=["48 V"])


class Way(Named):
    """One way out of a distribution panel."""

    fuse: Current = needed(description="Rating of the fuse in this way.", examples=["15 A"])
    style: Annotated[Text, style_of("fuse", "breaker")] | None = Field(
        None, description="Kind of fuse, by the words for the style of a fuse.", examples=["blade"]
    )
    dc: Flag | None = Field(
        None,
        description="True where it is marked for DC at the voltage of its panel, false where only "
        "for AC.",
        examples=[True],
    )


class Distribution(Named):
    """A panel with a fuse in each way out: terminals are `panel` (its feed) and `panel.way`."""

    MAY_BE_UNKNOWN = ("ways",)

    rating: Current | None = Field(
        None, description="Rated current of the feed.", examples=["100 A"]
    )
    voltage: Voltage | None = Field(None, description="Rated DC voltage.", examples=["32 V"])
    ways: dict[str, Way] = Field(
        default_factory=dict,
        description="The ways out, by name. Where nobody knows them, those that wires name: a wire "
        "to `panel.lights` hangs on a way `lights`, and a load on the panel itself on one of its "
        "own.",
    )


class Arrester(Named):
    """A surge arrester across the two poles of a terminal."""

    across: Reference = Field(description="The terminal it protects.", examples=["tracker.pv"])
    voltage: Voltage = needed(
        description="Highest DC voltage that it stands continuously.", examples=["150 V"]
    )
