"""The acid of lead batteries: at what temperature it freezes, by what is left of the charge.

Discharge takes the acid out of the water, which then freezes as water nearly does. Figures of
handbooks on lead batteries, from memory; where handbooks differ, the colder ones.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

FREEZING: Final = ((0.0, -7.0), (0.25, -15.0), (0.5, -25.0), (0.75, -38.0), (1.0, -60.0))
"""Share of the charge that is left, and the temperature (°C) at which the acid freezes then."""


def freezing_point(charge: float) -> float:
    """Temperature (°C) at which the acid freezes with a share of the charge left (0 to 1)."""
    for (less, warmer), (more, colder) in pairwise(FREEZING):
        if charge <= more:
            return warmer + (colder - warmer) * (max(charge, less) - less) / (more - less)
    return FREEZING[-1][1]


def charge_that_bears(air: float) -> float | None:
    """The least share of the charge with which nothing freezes in some air (°C).

    None where a full battery freezes too.
    """
    for (less, warmer), (more, colder) in pairwise(FREEZING):
        if air >= colder:
            return less + (more - less) * max(0.0, warmer - air) / (warmer - colder)
    return None
