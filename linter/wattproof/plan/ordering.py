"""A plan whose components stand in the order of their names, wherever its author wrote them.

What is computed and found must not hang on which of two alike strings comes first in a file: where
two are equal, the first is named, and that has to be the same one after the keys were moved.
"""

from __future__ import annotations

import re
from typing import Final, TypeVar

from wattproof.plan.fields import Named, Part
from wattproof.plan.root import Plan

_T = TypeVar("_T", bound=Part)
_NUMBER: Final = re.compile(r"([0-9]+)")


def in_order(plan: Plan) -> Plan:
    """The plan with each of its families in the order of names."""
    return _ordered(plan)


def name_key(name: str) -> tuple[tuple[int, int, str], ...]:
    """By which names are ordered: `s2` before `s10`, and no two names are equal."""
    parts = _NUMBER.split(name)
    return (*((1, int(p), p) if p.isdecimal() else (0, 0, p) for p in parts),)


def _ordered(part: _T) -> _T:
    update: dict[str, object] = {}
    for key, held in vars(part).items():
        if isinstance(held, dict) and held and isinstance(next(iter(held.values())), Named):
            names = sorted(held, key=name_key)
            if names != list(held):
                update[key] = {name: held[name] for name in names}
        elif isinstance(held, Part):
            new = _ordered(held)
            if new is not held:
                update[key] = new
    return part.model_copy(update=update) if update else part
