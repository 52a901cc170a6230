"""Helpers for testing rules and packs: run a plan's text, run a rule's own examples.

A pack tests all its rules in one line: `check_examples(rule)` for each rule.
"""

from __future__ import annotations

import datetime

from wattproof.engine import Result, check
from wattproof.finding import Finding
from wattproof.loading import load_study
from wattproof.packs import RuleSet, discover
from wattproof.rule import Rule
from wattproof.study import Study

A_DAY = datetime.date(2026, 7, 1)
"""The day that tests run on, so that acceptances end when a test means them to."""


def study_of(text: str, *, name: str = "plan.yaml") -> Study:
    """The study of a plan given as text. Raises PlanUnusable."""
    return load_study(name, text=text)


def check_text(text: str, rules: RuleSet | None = None, *, today: datetime.date = A_DAY) -> Result:
    """Check a plan given as text, by all installed rules or by some. Raises PlanUnusable."""
    study = study_of(text)
    return check(
        study, rules if rules is not None else discover(), file="plan.yaml", today=today
    ).result


def check_examples(rule: Rule, rules: RuleSet | None = None) -> None:
    """Run a rule's two examples. Raises AssertionError.

    The sound plan has no finding of any rule; the faulty one has findings of this rule alone, and
    every way of their remedies clears them and brings no other.
    """
    rules = rules if rules is not None else discover()
    sound = check_text(rule.sound, rules)
    assert not sound.findings, f"{rule.id}: the sound example has {_shown(sound)}"
    faulty = check_text(rule.faulty.of(rule.sound), rules)
    found = {f.rule for f in faulty.findings}
    assert found == {rule.id}, f"{rule.id}: the faulty example has {_shown(faulty)}"
    for finding in faulty.findings:
        check_remedy(finding)


def check_remedy(finding: Finding) -> None:
    """Look at what came of trying a finding's remedy. Raises AssertionError.

    Every way of it can be tried, clears the finding and brings no other.
    """
    assert len(finding.trials) == len(finding.ways), f"{finding.rule}: a remedy cannot be tried"
    for trial in finding.trials:
        changes = ", ".join(str(change) for change in trial.changes)
        assert finding.identity in trial.clears, f"{finding.rule}: {changes} does not clear it"
        assert not trial.brings, f"{finding.rule}: {changes} brings {trial.brings}"


def _shown(result: Result) -> str:
    return "; ".join(f"{f.rule}: {f.message}" for f in result.findings) or "no finding"
