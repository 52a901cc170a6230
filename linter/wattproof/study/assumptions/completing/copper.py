"""Which fuse is usual on which copper, and what is sold of both."""

from __future__ import annotations

from wattproof.physics.conductors import gauge_area_mm2
from wattproof.study.assumptions import labels

_ROUNDED = 1.001
"""So that a gauge counts as itself."""


def sold_for(amps: float) -> float:
    """The smallest size sold (mm²) on which a fuse of so many amperes is usual."""
    enough = (size for size in labels.SOLD_SIZES if fuse_on(size) >= amps)
    return next(enough, labels.SOLD_SIZES[-1])


def fuse_sold(amps: float) -> float:
    """The smallest fuse (A) sold for cables that carries so many amperes."""
    larger = (size for size in labels.FUSE_ON_COPPER.value.values() if size >= amps)
    return next(larger, max(amps, *labels.FUSE_ON_COPPER.value.values()))


def fuse_on(area: float) -> float:
    """The fuse (A) usual on copper of an area (mm²)."""
    smaller = [
        amps
        for size, amps in labels.FUSE_ON_COPPER.value.items()
        if gauge_area_mm2(size.removesuffix(" AWG")) <= area * _ROUNDED
    ]
    return max(smaller, default=labels.FUSE_ON_COPPER.value["18 AWG"])
