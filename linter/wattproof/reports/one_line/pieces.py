"""What is to be placed in a diagram: parts, and the runs between them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Item:
    """A part to be placed. Its axis is the middle of its symbol.

    half: from the axis to either side of the symbol. beside: room for words right of the symbol.
    height: of symbol and words. start, end: how far below its top lines end at it and begin from
    it. gap: least distance of two lines on one side of it.
    stretches: True where the symbol may be drawn as wide as what hangs on it. ports: places of
    lines at its lower side, from the axis, where they are fixed.
    """

    key: str
    half: float
    beside: float
    height: float
    start: float
    end: float
    gap: float = 14.0
    stretches: bool = False
    ports: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Strand:
    """A run to be placed: the parts at its ends, and its room left and right of the line."""

    key: str
    upper: str
    upper_port: str
    lower: str
    lower_port: str
    left: float
    right: float
    height: float
