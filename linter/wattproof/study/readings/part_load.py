"""What was read at part of the load, taken to the whole.

Drop follows the current, heat its square; but not from so small a part that the meter's own errors
would be multiplied.
"""

from __future__ import annotations

from typing import Final

from wattproof.study.limits import SLACK
from wattproof.working import Value

LEAST_LOAD: Final = 0.25
"""Share of the lasting current under which a drop says nothing of the whole."""


def larger_of(current: Value | None, full: Value | None) -> Value | None:
    """The larger of what flowed and of what flows at most (A); None where neither is known."""
    known = [value for value in (current, full) if value is not None]
    return max(known, key=lambda value: abs(value.number), default=None)


def too_little_flows(current: Value | None, full: Value | None, least: float) -> bool:
    """Whether less flowed than a share of what flows at most (A), or nothing at all."""
    if current is None:
        return True
    needed = least * full.number if full is not None else 0.0
    return abs(current.number) < needed * (1.0 - SLACK) or current.number == 0.0


def share_to_full(current: Value | None, full: Value | None) -> Value | None:
    """By how much the load can grow; None where it cannot, or is not known."""
    if current is None or full is None or full.number <= abs(current.number):
        return None
    if current.number == 0.0:
        return None
    amps = current if current.number > 0 else -1.0 * current
    return full / amps
