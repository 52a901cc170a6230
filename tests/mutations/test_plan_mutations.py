"""Whole plans made dangerous: each change is caught at its level, and under another body."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from amounts import LONG
from mutations.dangerous_plans import PLAN_MUTATIONS, PlanMutation
from wattproof.engine import Result, examine
from wattproof.example import Example
from wattproof.packs import discover
from wattproof.testing import A_DAY

RULES = discover()
ROOT = Path(__file__).parents[2]
BASES = {
    path.stem: path
    for room in ("rules/wattproof_rules/plans", "tests/sound")
    for path in sorted((ROOT / room).glob("*.yaml"))
}
BODIES = ("nec-2023", "abyc-e11", "iec", "iso-13297", "as-nzs-3001")
CASES = list(enumerate(PLAN_MUTATIONS))


def made(mutation: PlanMutation) -> str:
    base = BASES[mutation.plan]
    return Example(base, mutation.less, mutation.edits, mutation.more).whole()


def checked(text: str, *, ask: bool) -> Result:
    """What is found; ask: and what is to be looked up, which takes half of the time."""
    result = examine(
        "plan.yaml", RULES, today=A_DAY, text=text, try_remedies=False, ask=ask or LONG
    ).result
    assert not result.problems, [f"{p.place}: {p.message}" for p in result.problems]
    assert not result.failed
    return result


def levels_of(result: Result, rule: str) -> set[str]:
    """The levels at which a rule tells something, and `question` where it asks."""
    levels: set[str] = {f.level for f in result.each if f.rule == rule}
    if any(d.rule == rule for asked in result.questions for d in asked.decides):
        levels.add("question")
    return levels


@pytest.mark.parametrize("mutation", PLAN_MUTATIONS, ids=lambda m: m.name)
def test_a_dangerous_change_is_caught_at_its_level(mutation: PlanMutation) -> None:
    result = checked(made(mutation), ask=mutation.level == "question")
    assert mutation.level in levels_of(result, mutation.catches)


@pytest.mark.parametrize(
    ("number", "mutation"),
    [(n, m) for n, m in CASES if m.any_body],
    ids=lambda each: getattr(each, "name", str(each)),
)
def test_it_is_caught_under_another_body_of_rules(number: int, mutation: PlanMutation) -> None:
    body = BODIES[number % len(BODIES)]
    text = re.sub(r"(?m)^code: .*$", f"code: {body}", made(mutation))
    assert any(levels_of(checked(text, ask=ask), mutation.catches) for ask in (False, True))
