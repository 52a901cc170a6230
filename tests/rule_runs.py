"""One rule on its own examples and on edits of them."""

from __future__ import annotations

from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.testing import check_text

RULES = discover()


def sound(rule: str) -> str:
    """The plan without a finding."""
    return RULES.rules[rule].sound


def faulty(rule: str) -> str:
    """The plan with one."""
    return RULES.rules[rule].faulty.of(sound(rule))


def found(plan: str, rule: str) -> list[Finding]:
    """What the rule alone finds in a plan."""
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


def levels(plan: str, rule: str) -> list[str]:
    """The levels of what it finds."""
    return [finding.level for finding in found(plan, rule)]
