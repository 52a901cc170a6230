"""How modules lie of which nobody told it."""

from __future__ import annotations

from wattproof.plan.array import String
from wattproof.plan.root import Plan


def may_be_raised(string: String, plan: Plan) -> bool:
    """True of modules that may well be raised, where nobody told how they lie.

    Those on a rack, those that are set up, and those on the roof of a building.
    """
    if string.mounting == "open-rack" or string.portable:
        return True
    place = plan.site.places.get(str(string.place)) if string.place else None
    if place is not None and place.on_building:
        return True
    roof = string.mounting in ("roof-gap", "roof-bonded")
    return roof and plan.setting not in ("vehicle", "boat")
