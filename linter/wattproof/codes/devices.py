"""Standard ratings of overcurrent devices, and the largest one that protects a conductor."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from wattproof.codes.nec import small_conductor_cap
from wattproof.codes.tables import table
from wattproof.codes.values import Ampacity, NotTabulated, TableValue
from wattproof.physics.comparing import over


@cache
def ratings(name: str, series: tuple[str, ...] = ()) -> tuple[float, ...]:
    """Standard ratings in A of the table ``name``, ascending; of the named series, if any."""
    rows = (row for row in table(name).rows if not series or row["series"] in series)
    return tuple(sorted(float(row["amps"]) for row in rows))


def next_rating(standard: tuple[float, ...], amps: float) -> float:
    """The smallest standard rating in A that is not below ``amps``; raises NotTabulated."""
    for rating in standard:
        if not over(amps, rating):
            return rating
    raise NotTabulated(f"no standard rating reaches {amps:g} A: the largest is {standard[-1]:g} A")


def previous_rating(standard: tuple[float, ...], amps: float) -> float:
    """The largest standard rating in A that is not above ``amps``; raises NotTabulated."""
    for rating in reversed(standard):
        if not over(rating, amps):
            return rating
    raise NotTabulated(f"no standard rating is below {amps:g} A: the smallest is {standard[0]:g} A")


def largest_device(
    rules: Mapping[str, Any], standard: tuple[float, ...], ampacity: Ampacity
) -> TableValue:
    """Largest rating in A of a device that protects a conductor, and the clause that says so.

    By the rule of the body: ``not-above`` the ampacity; the ``next-standard-size`` above it, up to
    a limit and with caps for small conductors; or the ``next-standard-size-to-share`` of it. The
    figure is a limit on ratings, and need not be a standard rating itself. 0 where the conductor
    may carry nothing.
    """
    carries = ampacity.value
    if carries <= 0:
        return _limit(0.0, "the conductor may carry no current here", rules["source"], rules)
    match rules["rule"]:
        case "next-standard-size":
            return _next_size(rules, standard, ampacity)
        case "next-standard-size-to-share":
            share = rules["share"]
            above = _next_or(standard, carries)
            if not over(above, share * carries):
                what = f"next standard size, within {share:.0%} of {carries:.4g} A"
                return _limit(above, what, rules["source"], rules)
            what = f"ampacity; the next standard size is above {share:.0%} of it"
            return _limit(carries, what, rules["source"], rules)
        case "not-above":
            return _limit(carries, "not above the conductor's ampacity", rules["source"], rules)
        case other:
            raise ValueError(f"{other!r} is not a rule for devices over conductors")


def _next_size(
    rules: Mapping[str, Any], standard: tuple[float, ...], ampacity: Ampacity
) -> TableValue:
    carries = ampacity.value
    if over(carries, rules["up_to"]):
        return _limit(carries, "not above the conductor's ampacity", rules["source_above"], rules)
    above = _next_or(standard, carries)
    cap = small_conductor_cap(rules["small_conductor_table"], ampacity.size_used)
    if cap is not None and cap.value < above:
        return cap
    return _limit(above, f"standard size at or next above {carries:.4g} A", rules["source"], rules)


def _next_or(standard: tuple[float, ...], amps: float) -> float:
    """The next standard rating, or the current itself where no rating reaches it."""
    return next_rating(standard, amps) if amps <= standard[-1] else amps


def _limit(amps: float, what: str, source: str, rules: Mapping[str, Any]) -> TableValue:
    return TableValue(amps, "A", f"largest device: {what}", source, rules["verified"])
