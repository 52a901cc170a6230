"""Invented plans, typical of the trade, as careful amateurs and electricians write them.

Their kinds are rare among the published builds, and their judgement has the same form
(`published_builds.py`): what is wrong by the plan alone, and one line for each cause that is found.
"""

from __future__ import annotations

from functools import cache

import pytest

from external.published_builds import (
    DOUBTFUL,
    FALSE,
    JUDGEMENTS,
    TYPICAL,
    Build,
    Measured,
    builds,
    measure,
)
from found import told_of_nothing
from wattproof.packs import discover

PLANS = builds(TYPICAL)
NAMES = [plan.name for plan in PLANS]


@cache
def _measured(name: str) -> Measured:
    return measure(PLANS[NAMES.index(name)])


@pytest.mark.parametrize("plan", PLANS, ids=NAMES)
class TestPlan:
    """What is asked of each."""

    def test_it_can_be_checked_to_the_end(self, plan: Build) -> None:
        result = _measured(plan.name).result
        assert not result.problems, [str(p) for p in result.problems]
        assert not result.failed

    def test_every_fault_is_told_and_the_gravest_first(self, plan: Build) -> None:
        measured = _measured(plan.name)
        assert not measured.missed
        assert measured.gravest_first

    def test_all_that_is_found_is_judged_and_what_is_judged_is_found(self, plan: Build) -> None:
        measured = _measured(plan.name)
        unjudged = [f"{f.level} {f.rule} of {f.subjects[0]}" for f in measured.unjudged]
        assert not unjudged
        assert {group.line for group in measured.groups} == set(plan.lines)
        known = discover().rules
        assert {line.rule for line in plan.lines} <= set(known)
        assert {line.judged for line in plan.lines} <= set(JUDGEMENTS)

    def test_all_outputs_say_the_same(self, plan: Build) -> None:
        measured = _measured(plan.name)
        assert not measured.disagreements
        assert not told_of_nothing(measured.result)


@pytest.mark.whole
def test_no_alarm_is_false_and_few_are_doubtful() -> None:
    groups = [g for plan in PLANS for g in _measured(plan.name).groups]
    alarms = [g for g in groups if g.level in ("error", "warning")]
    assert not [g.line for g in groups if g.line.judged == FALSE]
    doubtful = [g.line for g in alarms if g.line.judged == DOUBTFUL]
    assert len(doubtful) <= 3, doubtful
