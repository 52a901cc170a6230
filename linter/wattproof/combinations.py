"""The plan with removable parts taken away: what is wrong only then.

Portable modules and removable batteries come and go. What is sound with all of them may not be
with one of two: the battery that stays takes the charge meant for both.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import combinations
from typing import Final

from wattproof.finding import LEVELS, Finding, Identity
from wattproof.loading import study_of_plan
from wattproof.plan.removal import removable, without
from wattproof.plan.root import Plan
from wattproof.source import PlanUnusable
from wattproof.study import Study
from wattproof.words import quoted

MAX_REMOVABLE: Final = 4
"""Most removable parts of which every combination is looked at; of more, each alone and all."""

_DANGEROUS: Final = ("fire", "shock", "injury", "damage")
"""Hazards that count. That fewer modules give less energy is what taking them away means."""


def found_without(
    plan: Plan, found: Iterable[Finding], run: Callable[[Study], list[Finding]]
) -> list[Finding]:
    """What is wrong, or graver, only where removable parts are taken away.

    found: what is wrong with all of them. run: checks a study by all rules.
    """
    found = list(found)
    more: dict[Identity, Finding] = {}
    for names in _taken_away(removable(plan)):
        known = [(_left_of(f, names), f.level) for f in found]
        said = {(f.rule, f.message, f.level) for f in found}
        for finding in _run_without(plan, names, run):
            if finding.hazard not in _DANGEROUS or finding.level == "note":
                continue
            as_grave = LEVELS[: LEVELS.index(finding.level) + 1]
            if any(level in as_grave and _is_part_of(finding, left) for left, level in known):
                continue
            if any((finding.rule, finding.message, level) in said for level in as_grave):
                continue  # the same, shown at another of its places
            words = f"when {quoted(names)} {'are' if len(names) > 1 else 'is'} taken away"
            more.setdefault(finding.identity, finding._replace(when=words, ways=()))
    return list(more.values())


def _left_of(finding: Finding, names: tuple[str, ...]) -> Identity:
    """By what a finding is known where some of the components that it names are taken away."""
    rule, subjects = finding.identity
    return rule, tuple(subject for subject in subjects if subject not in names)


def _is_part_of(finding: Finding, known: Identity) -> bool:
    """True for the same fault of the same component, with no more that has a part in it."""
    rule, subjects = known
    return (
        finding.rule == rule
        and finding.subjects[:1] == subjects[:1]
        and set(finding.subjects) <= set(subjects)
    )


def _run_without(
    plan: Plan, names: tuple[str, ...], run: Callable[[Study], list[Finding]]
) -> list[Finding]:
    """What is wrong without some parts; nothing where the rest is no circuit any more."""
    try:
        return run(study_of_plan(without(plan, names), whole=False))
    except PlanUnusable:
        return []


def _taken_away(names: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Combinations of parts, the fewest first."""
    sizes = range(1, len(names) + 1) if len(names) <= MAX_REMOVABLE else (1, len(names))
    for size in sizes:
        yield from combinations(names, size)
