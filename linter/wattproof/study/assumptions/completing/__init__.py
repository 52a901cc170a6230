"""A plan with a usual figure in the place of each value that it needs and does not tell.

What else the plan tells of the same thing comes first: a fuse by the cable that it is in, a cable
by its fuse or by what its device draws, a label by the rest of it. Every figure knows that it is
assumed, so that each number made of it does. A plan that tells all it needs stays itself.
"""

from __future__ import annotations

from wattproof.plan.removal import without
from wattproof.plan.root import Plan
from wattproof.study.assumptions.completing.batteries import banks
from wattproof.study.assumptions.completing.conductors import lengths, sizes
from wattproof.study.assumptions.completing.devices import ratings
from wattproof.study.assumptions.completing.filling import Choose, Figure, Filling
from wattproof.study.assumptions.completing.sheets import labels_of_modules, sheets_of_their_own
from wattproof.study.assumptions.completing.units import units

__all__ = ["Choose", "Figure", "completed"]

_IN_TURN = (sheets_of_their_own, labels_of_modules, units, banks, sizes, ratings, lengths)
"""What fills a plan: each reads what those before it have filled."""


def completed(plan: Plan, choose: Choose | None = None) -> Plan:
    """The plan with a figure for everything that it needs and does not tell.

    choose: gives another figure than the usual one. Families are those of the plan, and `modules`
    and `cables` of its datasheets.
    """
    filling = Filling(_without_open_strings(plan), choose)
    for fill in _IN_TURN:
        fill(filling)
    return filling.plan


def _without_open_strings(plan: Plan) -> Plan:
    """The plan without strings of which it is not chosen how they are joined, which it keeps apart.

    Nothing can be computed of them, nor of what only they lead to.
    """
    left = {name: s for name, s in plan.strings.items() if "arrangement" in s.open}
    if not left:
        return plan
    rest = without(plan, left)
    return rest.model_copy(update={"open_strings": {**plan.open_strings, **left}})
