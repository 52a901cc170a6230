"""Conductors that tie the metal of frames together and to earth or chassis."""

from typing import Annotated

from pydantic import Field

from wattproof.plan.fields import CableOrUnknown, Length, Named, Names, needed, one_of
from wattproof.source import Text
from wattproof.words import enumerated


class FrameBond(Named):
    """A conductor that ties the frames of modules to the earth or the chassis."""

    strings: Names = Field(
        description="The strings whose frames it ties.", examples=[["port", "starboard"]]
    )
    to: Annotated[Text, one_of("chassis", "water", "earth")] = Field(
        description="What it ties the frames to.", examples=["earth"]
    )
    cable: CableOrUnknown = needed(
        description="The cable's datasheet, or its size where no more is known of it.",
        examples=["bond-10", "10 AWG", "6 mm²"],
    )
    length: Length | None = Field(None, description="Length.", examples=["6 m"])

    @property
    def start(self) -> str:
        """Where it begins, in words."""
        return f"frames of {enumerated(self.strings)}"
