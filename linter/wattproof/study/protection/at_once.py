"""Whether a device opens at once on a short, and the conductor bears it until then.

What lasts may then be limited by another device ahead: the one behind has to clear shorts only (IEC
60364-4-43 433.3.1 and 434.5; from memory).
"""

from __future__ import annotations

from typing import Final

from wattproof.physics.conductors import withstand_time

AT_ONCE: Final = 10.0
"""Times its rating at which a fuse opens at once (common practice)."""
SHORT_LASTS: Final = 0.1
"""How long a short then lasts at the most (s)."""
SHORT_WITHSTAND: Final = 115.0
"""The k of copper in the insulation that stands least (IEC 60364-4-43 table 43A, from memory)."""


def opens_at_once(short: float, rating: float, area_mm2: float) -> bool:
    """True where a short (A) opens devices that let a current last (A), in time for a conductor."""
    if short < AT_ONCE * rating:
        return False
    return withstand_time(area_mm2, short, SHORT_WITHSTAND) >= SHORT_LASTS
