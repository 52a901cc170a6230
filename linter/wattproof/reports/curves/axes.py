"""Axes: round ticks, and where on the picture a quantity stands."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Scale:
    """From a quantity, from 0 to `top`, to a coordinate, from `start` to `end`."""

    top: float
    start: float
    end: float

    def at(self, quantity: float) -> float:
        """The coordinate of a quantity; at the ends for what lies beyond."""
        share = min(max(quantity / self.top, 0.0), 1.0)
        return self.start + share * (self.end - self.start)


def ticks(top: float, about: int) -> list[tuple[float, str]]:
    """Round quantities from 0 to `top`, about so many, each as it is written."""
    power = math.floor(math.log10(top / about))
    steps = [times * 10.0**power for times in (1, 2, 5, 10)]
    step = min(steps, key=lambda s: abs(math.log(top / s / about)))
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    count = math.floor(top / step + 1e-9) + 1
    return [(k * step, f"{k * step:.{decimals}f}") for k in range(count)]
