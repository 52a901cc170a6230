"""A bar, switch, selector, joint or panel of a lower rating is never told more mildly.

Each in the invented plans that are typical of the trade, its rating lowered step by step: the
gravest that is told of it stays or becomes graver. No rule knows of this; where two judge one part
by its rating, it finds that they agree.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest

from amounts import amount
from external.published_builds import TYPICAL, builds
from wattproof.engine import check
from wattproof.finding import LEVELS
from wattproof.loading import study_of_plan
from wattproof.packs import discover
from wattproof.plan import load_plan
from wattproof.plan.amend import Change, amended
from wattproof.plan.root import Plan
from wattproof.testing import A_DAY

FAMILIES = ("busbars", "switches", "selectors", "combiners", "distribution")
LOWERED = (1.0, 0.7, 0.45, 0.25, 0.1, 0.03)
NOTHING_TOLD = len(LEVELS)


PLANS = {build.name: build.text for build in builds(TYPICAL)}


@cache
def loaded(name: str) -> Plan:
    return load_plan(f"{name}.yaml", text=PLANS[name])


def parts() -> Iterator[tuple[str, str]]:
    """Every part of a rating, behind the name of the plan that it is in."""
    for name in PLANS:
        for family in FAMILIES:
            for part in getattr(loaded(name), family).values():
                if part.rating is not None:
                    yield name, str(part.name)


def gravest(plan: Plan, name: str) -> int:
    """The place in LEVELS of the gravest that is told of a part."""
    study, rules = study_of_plan(plan), discover()
    checked = check(study, rules, file="plan.yaml", today=A_DAY, try_remedies=False, ask=False)
    told = (f.level for f in checked.result.findings if name in f.all_subjects)
    return min(map(LEVELS.index, told), default=NOTHING_TOLD)


@pytest.mark.parametrize(("plan", "part"), list(parts())[:: amount(12, 1, whole=1)])
def test_a_lower_rating_is_told_no_more_mildly(plan: str, part: str) -> None:
    families = (getattr(loaded(plan), family) for family in FAMILIES)
    rating = next(family[part].rating.value for family in families if part in family)
    told = []
    for share in LOWERED:
        lowered = Change(part, "rating", f"{share * rating:g} A")
        told.append(gravest(amended(loaded(plan), (lowered,)), part))
    assert told == sorted(told, reverse=True)
