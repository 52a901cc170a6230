"""Comparing a number with a limit, so that rounding never decides; and how much is left."""

from __future__ import annotations

from typing import Final

from wattproof.physics.comparing import SLACK as SLACK
from wattproof.physics.comparing import over as over
from wattproof.working import Value, largest, smallest

LEAST_POWER: Final = 0.80
"""Share of the power expected in operation under which too little is told; common practice."""


JOINT_RISE: Final = 30.0
ELEMENT_RISE: Final = 50.0
"""K that a joint or switch, and a fuse or breaker, is hotter than the air at full load, at most;
common practice."""


LEAST_SPREAD: Final = 0.05
"""Share by which one string may lie under another like it before that is told; common practice."""


DEADLY: Final = 120.0
"""Direct voltage (V) above which a touch can kill (IEC 60364-4-41 414)."""


VEHICLE_SYSTEMS: Final = {12.0: 16.0, 14.0: 16.0, 24.0: 32.0, 28.0: 32.0}
"""Marks (V) that name the system of a vehicle that a part is made for, and what such a system may
reach while it charges (V); ISO 16750-2, from memory."""


def exceeds_mark(volts: Value, rated: Value) -> bool:
    """True where a circuit reaches more than the voltage that is printed on a part of it."""
    reaches = VEHICLE_SYSTEMS.get(rated.number)
    return exceeds(volts, rated) and (reaches is None or exceeds(volts, reaches))


def names_system(volts: Value, rated: Value) -> bool:
    """True where a circuit reaches more than is printed on a part, which names a vehicle's system.

    False for what is not printed but supposed.
    """
    return exceeds(volts, rated) and not exceeds_mark(volts, rated) and not rated.assumptions


def exceeds(value: Value, limit: Value | float) -> bool:
    """True where a value lies above a limit; a value at the limit does not."""
    return value > limit and over(value.number, float(limit))


HAIR: Final = 0.05
"""How far past a limit (as a share of it) a likely current is that no figure in the place of a
label tells from one that fits: conductors heat slowly. Voltages and temperatures have no such
room."""


def exceeds_for_sure(amps: Value, limit: Value) -> bool:
    """True for a current above a limit by more than a hair, or of which nothing is supposed.

    Another one is asked for, and so no reason to leave out what is worse.
    """
    known = not amps.assumptions and not limit.assumptions
    return exceeds(amps, limit if known else (1.0 + HAIR) * limit)


def margin_below(value: Value, limit: Value | float) -> float:
    """How far a value stays below a limit, as a share of the limit; negative above it."""
    return 1.0 - value.number / float(limit) if float(limit) else -1.0


def share_below(value: Value, limit: Value) -> str:
    """How far a value stays below a limit, in per cent, for words."""
    return f"{margin_below(value, limit) * 100:.1f} %"


def spread(values: list[Value], words: str) -> Value:
    """By how much the smallest of some values lies under the largest, as a share of that."""
    return (1.0 - smallest(values) / largest(values)).named("spread", words, "%")


def breaks(most: Value) -> str:
    """What a device can break, in a sentence; where that rests on a guess it is assumed."""
    return f"{'is assumed to' if most.assumptions else 'can'} break {most}"


def stated(limit: Value, what: str) -> str:
    """A limit and what it is, in a sentence; of one that rests on a guess it is assumed."""
    return f"{limit} is {'assumed to be ' if limit.assumptions else ''}{what}"


def is_told(rating: Value) -> bool:
    """True where a rating, or what devices let through, is by what their labels tell."""
    return not any(each.key == "rating" for each in rating.assumptions)
