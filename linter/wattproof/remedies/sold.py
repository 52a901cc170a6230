"""Ratings as parts are sold, for what a remedy writes into a plan."""

from __future__ import annotations

import re
from typing import Final

from wattproof.plan.amend import Amendment, Change
from wattproof.plan.root import Plan

RATINGS: Final = (
    *(10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450),
    *(500, 600, 800, 1000, 1200, 1500, 2000),
)
"""Ratings (A) that switches, bars, panels, joints and isolators are sold with (common practice)."""

_AMPERES: Final = re.compile(r"(\d+(?:\.\d+)?) A")


def as_sold(amendment: Amendment, plan: Plan) -> Amendment:
    """A rating that a remedy writes, as the next that such parts are sold with; all else as it is.

    Of fuses and breakers the bodies of rules have the ratings.
    """
    if isinstance(amendment, Change):
        if amendment.key != "rating" or not _carries_only(amendment.component, plan):
            return amendment
        return amendment._replace(text=_sold(amendment.text))
    if amendment.family != "switches":
        return amendment
    values = ((key, _sold(text) if key == "rating" else text) for key, text in amendment.values)
    return amendment._replace(values=tuple(values))


def _sold(rating: str) -> str:
    amps = _AMPERES.fullmatch(rating)
    found = (f"{each} A" for each in RATINGS if amps is not None and each >= float(amps[1]))
    return next(found, rating)


def _carries_only(name: str, plan: Plan) -> bool:
    """True for what is chosen by what it carries and opens for nothing: more harms nothing."""
    families = (plan.switches, plan.selectors, plan.busbars, plan.distribution)
    return any(name in family for family in (*families, plan.combiners, plan.diode_isolators))
