"""Whether a plan read back is the plan that was meant: every value, whatever stands where.

Datasheets and places count as part of what refers to them, since a change of one wire's cable may
be written where it stands or in a datasheet of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from wattproof.plan.amend import Amendment, Change, amended
from wattproof.plan.datasheets import CableSheet
from wattproof.plan.fields import Part
from wattproof.plan.root import Plan
from wattproof.plan.sized import CABLED, OF_A_CABLE
from wattproof.plan.ways import way_name
from wattproof.quantities import Quantity
from wattproof.source import Place, Text

LEFT: Final = ("left_unknown", "left_open")
_SHEETS: Final = {"cable": "cables", "module": "modules", "modules": "modules"}


def is_amended(before: Plan, changes: Iterable[Amendment], after: Plan) -> bool:
    """Whether a plan as read is another one with some changes in it.

    Raises ValueError and Mistake as `amended` does.
    """
    changes = tuple(changes)
    meant = amended(_with_cables(before, changes), changes)
    return bool(content(meant) == content(after))


def content(plan: Plan) -> Any:
    """All that a plan says, without where it says so, and with no name for what is referred to."""
    data = {key: getattr(plan, key) for key in type(plan).model_fields}
    data.pop("datasheets")
    site = {k: v for k, v in _plain(data.pop("site"), plan).items() if k != "places"}
    return {**{key: _plain(value, plan) for key, value in data.items()}, "site": site}


def _with_cables(plan: Plan, changes: Iterable[Amendment]) -> Plan:
    """The plan with an empty datasheet for each conductor that names none and is to get one."""
    wanted = {c.component for c in changes if isinstance(c, Change) and c.key.startswith("cable.")}
    cables = dict(plan.datasheets.cables)
    update: dict[str, Any] = {}
    for family in CABLED:
        parts = dict(getattr(plan, family))
        for name, part in parts.items():
            if part.cable is None and name in wanted:
                sheet = Text.at(f"{OF_A_CABLE}{name}", part.at)
                cables[sheet] = CableSheet.model_construct(name=sheet)
                left = {k: {**held} for k in LEFT if (held := getattr(part, k))}
                for held in left.values():
                    held.pop("cable", None)
                told = {k: left.get(k) or None for k in LEFT}
                parts[name] = part.model_copy(update={"cable": sheet, **told})
        update[family] = parts
    sheets = plan.datasheets.model_copy(update={"cables": cables})
    return plan.model_copy(update={**update, "datasheets": sheets})


def _is_a_wire(part: Any, key: str, plan: Plan) -> bool:
    """True of what a part feeds, where a wire of the plan stands for it and tells the same."""
    return key == "feeds" and way_name(str(part.name), part.feeds.to) in plan.wires


def _plain(value: Any, plan: Plan) -> Any:
    if isinstance(value, Quantity):
        return value.value, value.dimension, value.text
    if isinstance(value, Part):
        return {
            key: _referred(key, held, plan)
            for key in type(value).model_fields
            if (held := getattr(value, key)) is not None and not _is_a_wire(value, key, plan)
        }
    if isinstance(value, dict):
        return {str(key): _plain(each, plan) for key, each in value.items()}
    if isinstance(value, Place):
        return None
    if isinstance(value, str):
        return str(value)
    if isinstance(value, list | tuple):
        return [_plain(each, plan) for each in value]
    return value


def _referred(key: str, held: Any, plan: Plan) -> Any:
    """What a key holds, or what it names where that is a datasheet or a place."""
    if key in LEFT:
        return sorted(held)
    if key == "place":
        names = held if isinstance(held, tuple) else (held,)
        return [_nameless(plan.site.places.get(name, name), plan) for name in names]
    if key in _SHEETS:
        sheets = getattr(plan.datasheets, _SHEETS[key])
        names = held if isinstance(held, tuple) else (held,)
        return [_nameless(sheets.get(name, name), plan) for name in names]
    return _plain(held, plan)


def _nameless(sheet: Any, plan: Plan) -> Any:
    told = _plain(sheet, plan)
    return {k: v for k, v in told.items() if k != "name"} if isinstance(told, dict) else told
