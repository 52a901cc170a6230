"""Comparing a number with a limit, so that rounding never decides."""

from typing import Final

SLACK: Final = 1e-9
"""Relative: what decimals lose in binary arithmetic, so that 1 - 19/20 is not over 0.05."""


def over(value: float, limit: float) -> bool:
    """Whether a value lies above a limit that is not negative; one at the limit does not."""
    return value > limit * (1.0 + SLACK)
