"""Find a zero of a function of one variable inside known bounds."""

import math
from collections.abc import Callable
from typing import Final

_ROUNDS: Final = 200


def bracketed_root(
    function: Callable[[float], float],
    low: float,
    high: float,
    *,
    relative: float = 1e-14,
    absolute: float = 0.0,
) -> float:
    """Return a zero of `function` between `low` and `high`, whatever its shape there.

    `function` must have opposite signs (or a zero) at the two ends, or ValueError is raised. The
    result is within `relative` * |root| + `absolute` of a change of sign, or as near as floating
    point allows. Each step either interpolates or halves, so the bracket never grows.

    Source: T. R. Chandrupatla, "A new hybrid quadratic/bisection algorithm for finding the zero of
    a nonlinear function without using derivatives", Advances in Engineering Software 28 (1997)
    145-149, doi 10.1016/S0965-9978(96)00051-8.
    """
    newest, opposite = high, low
    at_newest, at_opposite = function(newest), function(opposite)
    if at_newest == 0.0:
        return newest
    if at_opposite == 0.0:
        return opposite
    if same_sign(at_newest, at_opposite):
        raise ValueError("the function has the same sign at both ends of the bracket")
    older, at_older = opposite, at_opposite
    for done in range(_ROUNDS):
        _, best = min((abs(at_newest), newest), (abs(at_opposite), opposite))
        width = abs(opposite - newest)
        tolerance = max(2.0 * (relative * abs(best) + absolute), 4e-16 * abs(best))
        if width <= tolerance:
            break
        inner = (newest, opposite, older), (at_newest, at_opposite, at_older)
        trial = newest + _share_of_next(*inner, tolerance, width, done) * (opposite - newest)
        at_trial = function(trial)
        if at_trial == 0.0:
            return trial
        if same_sign(at_trial, at_newest):
            older, at_older = newest, at_newest
        else:
            older, at_older = opposite, at_opposite
            opposite, at_opposite = newest, at_newest
        newest, at_newest = trial, at_trial
    return best


def same_sign(one: float, other: float) -> bool:
    """Whether both lie on the same side of nothing."""
    return math.copysign(1.0, one) == math.copysign(1.0, other)


def newton_from_above(step: Callable[[float], float], low: float, high: float) -> float:
    """Return the zero between `low` and `high` of a function that Newton's method meets from above.

    `step(x)` is f(x) / f'(x). Where f rises and is convex, or falls and is concave, every step
    from the right of the zero stays on its right, so that the walk ends without overshoot. It
    stops where rounding hides the rest of the way, and never leaves the bounds.
    """
    position = high
    while (lower := max(position - step(position), low)) < position:
        position = lower
    return position


def _share_of_next(
    at: tuple[float, float, float],
    values: tuple[float, float, float],
    tolerance: float,
    width: float,
    done: int,
) -> float:
    """Return how far from the newest to the opposite end the next trial lies (0 to 1).

    at, values: the newest end of the bracket, the opposite one and the trial before, and the
    function there; tolerance: the width looked for; width: of the bracket; done: rounds so far.
    Halving where interpolation has not ended it soon finds the zero whatever the shares before.
    """
    if done > _ROUNDS // 3:
        return 0.5
    least = min(0.5, 0.5 * tolerance / width)
    return min(max(_interpolated_share(*at, *values), least), 1.0 - least)


def _interpolated_share(
    newest: float,
    opposite: float,
    older: float,
    at_newest: float,
    at_opposite: float,
    at_older: float,
) -> float:
    """Return how far from `newest` to `opposite` the next trial lies (0 to 1).

    Inverse quadratic interpolation where it is safe by Chandrupatla's criterion, else one half.
    """
    if older == opposite or at_older in (at_newest, at_opposite):
        return 0.5
    xi = (newest - opposite) / (older - opposite)
    phi = (at_newest - at_opposite) / (at_older - at_opposite)
    if phi * phi >= xi or (1.0 - phi) * (1.0 - phi) >= 1.0 - xi:
        return 0.5
    first = at_newest / (at_opposite - at_newest) * at_older / (at_opposite - at_older)
    second = (older - newest) / (opposite - newest)
    third = at_newest / (at_older - at_newest) * at_opposite / (at_older - at_opposite)
    return first + second * third
