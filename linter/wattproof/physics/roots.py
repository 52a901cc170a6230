"""Find a zero of a function of one variable inside known bounds."""

from collections.abc import Callable


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
    if (at_newest > 0.0) == (at_opposite > 0.0):
        raise ValueError("the function has the same sign at both ends of the bracket")
    share = 0.5
    for _ in range(200):
        trial = newest + share * (opposite - newest)
        at_trial = function(trial)
        if (at_trial > 0.0) == (at_newest > 0.0):
            older, at_older = newest, at_newest
        else:
            older, at_older = opposite, at_opposite
            opposite, at_opposite = newest, at_newest
        newest, at_newest = trial, at_trial
        best = newest if abs(at_newest) < abs(at_opposite) else opposite
        width = abs(opposite - newest)
        tolerance = 2.0 * (relative * abs(best) + absolute)
        if at_newest == 0.0 or width <= tolerance or width <= 4e-16 * abs(best):
            return best
        share = _interpolated_share(newest, opposite, older, at_newest, at_opposite, at_older)
        least = min(0.5, 0.5 * tolerance / width)
        share = min(max(share, least), 1.0 - least)
    return best


def newton_from_above(step: Callable[[float], float], low: float, high: float) -> float:
    """Return the zero between `low` and `high` of a function that Newton's method meets from above.

    `step(x)` is f(x) / f'(x). Where f rises and is convex, or falls and is concave, every step
    from the right of the zero stays on its right, so that the walk ends without overshoot. It
    stops where rounding hides the rest of the way, and never leaves the bounds.
    """
    position = high
    for _ in range(200):
        change = step(position)
        if change <= 0.0:
            break
        lower = max(position - change, low)
        if lower >= position or change <= 1e-16 * abs(position):
            break
        position = lower
    return position


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
    if not 1.0 - (1.0 - xi) ** 0.5 < phi < xi**0.5:
        return 0.5
    first = at_newest / (at_opposite - at_newest) * at_older / (at_opposite - at_older)
    second = (older - newest) / (opposite - newest)
    third = at_newest / (at_older - at_newest) * at_opposite / (at_older - at_opposite)
    return first + second * third
