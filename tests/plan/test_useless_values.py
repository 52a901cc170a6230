"""A value of no use under any key is a problem of the plan, or is read; it never ends a check."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import count

import pytest

from amounts import amount
from fuzz import places, sources
from wattproof.loading import load_study
from wattproof.plan.root import Plan
from wattproof.source import PlanUnusable

USELESS = (None, "\x00", "", "unknown", 3, True, [], {})


EVERY = amount(101, 1, whole=23)


def changed() -> Iterator[tuple[str, str]]:
    """Each key of the plans, once for each set of neighbours: where it is, and the plan's text.

    Of all those texts some, evenly between.
    """
    seen: set[tuple[str, ...]] = set()
    numbers = count()
    for plan in sources():
        for holder, key in places(plan):
            known = (str(key), *sorted(map(str, holder))) if isinstance(holder, dict) else ("list",)
            if known not in seen:
                seen.add(known)
                old = holder[key]
                for number, word in enumerate(USELESS):
                    holder[key] = word
                    if next(numbers) % EVERY == 0:
                        yield f"{number} at {key}", json.dumps(plan, default=str)
                holder[key] = old


def can_be_read_or_not(text: str) -> None:
    try:
        load_study("plan.yaml", text=text)
    except PlanUnusable as unusable:
        assert unusable.problems


@pytest.mark.parametrize("section", [key for key in Plan.model_fields if key != "name"])
def test_a_section_without_a_value_is_told(section: str) -> None:
    for word in ("", '"a\\0b"'):
        text = f"wattproof: 1\nsetting: vehicle\n{section}: {word}\n"
        with pytest.raises(PlanUnusable):
            load_study("plan.yaml", text=text)


def test_values_of_no_use_end_no_check() -> None:
    for where, text in changed():
        try:
            can_be_read_or_not(text)
        except Exception as error:
            raise AssertionError(where) from error
