"""Remedies tried: the plan with a remedy's changes in it, checked again by all rules.

A remedy that does not clear its finding, or that brings another, is told as such.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from wattproof.finding import LEVELS, Brought, Changes, Finding, Identity, Trial
from wattproof.loading import study_of_plan
from wattproof.plan.amend import amended, following, name_in_plan
from wattproof.plan.references import components
from wattproof.plan.root import Plan
from wattproof.quantities import Mistake
from wattproof.source import PlanUnusable
from wattproof.study import Study

MAX_TRIALS: Final = 60
"""Most remedies that are tried of one plan, so that the check stays quick."""
MAX_COMPONENTS: Final = 3_000
"""Most components of all plans tried together, so that fewer are tried of a large one."""


READ_BEFORE: Final = "reading"
"""Part of the rules on what a meter showed before the change, of which a trial can tell nothing."""


class Trials:
    """Trials of changes on one plan, each made once.

    run: checks a study by all rules. most: how many are made of a small plan.
    """

    def __init__(
        self,
        plan: Plan,
        findings: Iterable[Finding],
        run: Callable[[Study], list[Finding]],
        most: int = MAX_TRIALS,
    ) -> None:
        self._plan = plan
        self._run = run
        self._gravest = gravest_of(findings)
        self._made: dict[Changes, Trial | None] = {}
        size = sum(1 for _ in components(plan))
        self._most = min(most, MAX_COMPONENTS // max(1, size))

    def of(self, changes: Changes) -> Trial | None:
        """What comes of some changes; None where they cannot be tried, or too many were."""
        if not changes:
            return None
        if changes not in self._made:
            if len(self._made) >= self._most:
                return None
            self._made[changes] = self._tried(changes)
        return self._made[changes]

    def with_trials(self, findings: Iterable[Finding]) -> list[Finding]:
        """The findings, each with what comes of its remedy."""
        return [f._replace(trials=self._of_all(f.ways)) if f.ways else f for f in findings]

    def with_common_remedy(self, finding: Finding) -> Finding:
        """A finding of several of one cause, with one remedy for all where that clears them."""
        if not finding.alike or not all(each.ways for each in finding.each):
            return finding
        together: Changes = ()
        for each in finding.each:
            together = tuple(following(together, each.ways[0]))
        trial = self.of(together)
        if trial is None or not set(finding.identities) <= set(trial.clears):
            return finding
        if together in finding.ways:
            return finding  # the way of the first is that of all
        return finding._replace(ways=(together, *finding.ways), trials=(trial, *finding.trials))

    def _of_all(self, ways: tuple[Changes, ...]) -> tuple[Trial, ...]:
        made = (self.of(changes) for changes in ways)
        return tuple(trial for trial in made if trial is not None)

    def _tried(self, changes: Changes) -> Trial | None:
        try:
            study = study_of_plan(amended(self._plan, changes))
        except (PlanUnusable, Mistake, ValueError):
            return None
        found = self._run(study)
        then = gravest_of(found)
        clears = [i for i, level in self._gravest.items() if not is_told(i, level, then)]
        brings = {
            Brought(f.rule, f.level, f.message, f.ways): None
            for f in found
            if f.part != READ_BEFORE
            and not is_told(_identity(f), LEVELS.index(f.level), self._gravest)
        }
        return Trial(changes, tuple(sorted(clears)), tuple(brings))


def is_told(identity: Identity, level: int, among: dict[Identity, int]) -> bool:
    """True where some findings have the same thing to say, in that level or a graver one.

    It is the same where one rule says it of the same component, or of the same ones or more: which
    of several alike components is named beside the first may change with the plan.
    """
    rule, names = identity
    return any(
        rule == other and at <= level and (names[0] == others[0] or set(names) <= set(others))
        for (other, others), at in among.items()
    )


def _identity(finding: Finding) -> Identity:
    """By which a finding of a changed plan is known in the plan as it stands."""
    return finding.rule, tuple(name_in_plan(name) for name in finding.subjects)


def gravest_of(findings: Iterable[Finding]) -> dict[Identity, int]:
    """The place in LEVELS of the gravest finding of each identity."""
    gravest: dict[Identity, int] = {}
    for finding in findings:
        identity, level = _identity(finding), LEVELS.index(finding.level)
        gravest[identity] = min(level, gravest.get(identity, level))
    return gravest
