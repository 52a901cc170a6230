"""What may be chosen for each kind of open value: standard sizes, the smallest first."""

from __future__ import annotations

from typing import Final, NamedTuple

from wattproof.codes import BodyOfRules
from wattproof.codes.styles import known_styles, style
from wattproof.physics.conductors import ConductorSize
from wattproof.quantities import Mistake, read_quantity
from wattproof.source import Place, Text
from wattproof.study.assumptions.labels import SOLD_CONTROLLERS, SOLD_INPUTS

CAPACITIES: Final = (
    *range(20, 100, 10),
    *range(100, 300, 20),
    *range(300, 1000, 50),
    *range(1000, 3001, 100),
)
"""Ah; batteries are sold in these or nearly so (common practice)."""
THINNEST: Final = 1.5
"""The thinnest photovoltaic cable (mm²): EN 50618; in gauges 14 AWG is (common practice)."""
JOINTS: Final = ("60 V", "100 V", "150 V", "250 V", "600 V", "1000 V", "1500 V")
"""DC voltages that joints of array wires are sold for (common practice)."""
_NOWHERE: Final = Place("", 1, 1, 1, 1)
_DIMENSIONS: Final = {
    "size": "conductor size",
    "rating": "current",
    "max_input_voltage": "voltage",
    "max_output_current": "current",
    "voltage": "voltage",
    "capacity": "charge",
}


class Knob(NamedTuple):
    """A value to choose. path: of its key in the plan. ladder: what there is, the smallest first.

    owner: what findings call the part that it belongs to.
    """

    path: tuple[str, ...]
    ladder: tuple[str, ...]
    owner: str

    @property
    def key(self) -> str:
        """The last key of the path."""
        return self.path[-1]

    def at_least(self, text: str) -> int | None:
        """The step that is as large as a value or larger; None where none is."""
        if self.key == "style":
            return self.ladder.index(text) if text in self.ladder else None
        wanted = self._number(text)
        if wanted is None:
            return None
        for step, each in enumerate(self.ladder):
            number = self._number(each)
            if number is not None and number >= wanted * (1.0 - 1e-9):
                return step
        return None

    def _number(self, text: str) -> float | None:
        try:
            return read_quantity(Text.at(text, _NOWHERE), _DIMENSIONS[self.key]).value
        except (Mistake, KeyError):
            return None


def sizes(body: BodyOfRules) -> tuple[str, ...]:
    """Conductor sizes of a body of rules, in its unit system."""
    return tuple(size.name for size in body.conductor_sizes())


def photovoltaic_sizes(body: BodyOfRules) -> tuple[ConductorSize, ...]:
    """Those of them that photovoltaic cable is made in."""
    return tuple(s for s in body.conductor_sizes() if s.area_mm2 >= THINNEST)


def ratings(body: BodyOfRules) -> tuple[str, ...]:
    """Standard ratings of overcurrent devices."""
    return tuple(f"{amps:g} A" for amps in body.standard_ratings())


def styles(kind: str) -> tuple[str, ...]:
    """Styles of fuses or breakers, those that break and stand least first."""
    found = [made for made in map(style, known_styles()) if made.kind == kind]

    def size(made: object) -> tuple[float, float]:
        interrupts = getattr(made, "interrupts", ())
        largest = getattr(made, "largest", None)
        breaks = max((amps.value for _, amps in interrupts), default=0.0)
        return breaks, largest.value if largest is not None else 0.0

    return tuple(made.name for made in sorted(found, key=size))


def ladder(family: str, key: str, body: BodyOfRules) -> tuple[str, ...]:
    """What may be chosen for a key of a family; empty where nothing is known of it."""
    if key == "size":
        return sizes(body)
    if key == "rating":
        return ratings(body)
    if key == "style":
        return styles("breaker" if family == "breakers" else "fuse")
    if key == "voltage":
        return JOINTS
    if key == "max_input_voltage":
        return tuple(f"{volts:g} V" for volts in SOLD_INPUTS)
    if key == "max_output_current":
        return tuple(f"{amps:g} A" for amps in SOLD_CONTROLLERS)
    if key == "capacity":
        return tuple(f"{hours} Ah" for hours in CAPACITIES)
    return ()
