"""One rule on its own examples and on edits of them."""

from __future__ import annotations

from pathlib import Path

from amounts import LONG
from found import found_alone
from plans import edited
from wattproof.engine import check
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.testing import A_DAY, check_text, study_of

RULES = discover()
BUILDS = Path(__file__).parent / "sound"


def sound(rule: str, *edits: tuple[str, str]) -> str:
    """The plan without a finding, or edits of it."""
    return edited(*edits, plan=RULES.rules[rule].sound)


def faulty(rule: str) -> str:
    """The plan with one."""
    return RULES.rules[rule].faulty.of(sound(rule))


def found(plan: str, rule: str, *, tried: bool = False) -> list[Finding]:
    """What the rule alone finds in a plan; tried: and its remedies are tried by it."""
    return _found(plan, rule, RuleSet({rule: RULES.rules[rule]}), tried)


def found_beside_all(plan: str, rule: str, *, tried: bool = False) -> list[Finding]:
    """What the rule finds where all rules run; tried: and all remedies are tried by all rules."""
    return _found(plan, rule, RULES, tried)


def _found(plan: str, rule: str, rules: RuleSet, tried: bool) -> list[Finding]:
    """Raises PlanUnusable."""
    run = check(study_of(plan), rules, file="plan.yaml", today=A_DAY, try_remedies=tried, ask=LONG)
    return [finding for finding in run.result.each if finding.rule == rule]


def all_found(plan: str) -> dict[str, str]:
    """The level of each rule that finds something."""
    result = found_alone("plan.yaml", plan, RULES)
    assert not result.problems, result.problems
    return {finding.rule: finding.level for finding in result.findings}


def levels(plan: str, rule: str) -> list[str]:
    """The levels of what it finds."""
    return [finding.level for finding in found(plan, rule)]


def build(name: str) -> str:
    """A sound plan of parts that few builds have."""
    return (BUILDS / f"{name}.yaml").read_text(encoding="utf-8")


def asked(plan: str, rule: str) -> list[str]:
    """What the rule alone would have somebody look up, by key."""
    result = check_text(plan, RuleSet({rule: RULES.rules[rule]}))
    return [label.key for question in result.questions for label in question.labels]
