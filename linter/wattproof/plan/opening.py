"""What is the builder's to choose, and is not chosen yet: the word `open`."""

from __future__ import annotations

from typing import Final, NamedTuple

from wattproof.source import Place

OPEN: Final = "open"


class Open(NamedTuple):
    """A value that is to be chosen.

    family: such as `fuses` or `cables`. name: in it. key: as in the plan. place: of the word, or
    of `feeds` where that stands for the wire.
    """

    family: str
    name: str
    key: str
    place: Place
