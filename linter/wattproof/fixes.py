"""Remedies that were tried, as changes of the text of a plan, for hosts and editors to offer.

Each stands for itself. What is offered clears its finding and brings no other, by the trial; and
the text that it makes says what was tried and nothing else, since it is read again.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from wattproof.amend.changes import with_changes
from wattproof.amend.replacements import Replacement, replacements
from wattproof.amend.reread import is_amended
from wattproof.engine import Result
from wattproof.finding import Changes, Finding
from wattproof.plan import load_plan
from wattproof.quantities import Mistake
from wattproof.source import PlanUnusable

_ALONE: Final = re.compile(r"\r(?!\n)")
MOST: Final = 3
"""Ways that are offered for one finding."""


class Fix(NamedTuple):
    """One way to mend a finding. changes: what it says. replacements: of the plan's own text."""

    changes: Changes
    replacements: tuple[Replacement, ...]


def fixes_of(result: Result, text: str) -> dict[Finding, tuple[Fix, ...]]:
    """The ways to mend each finding that nobody accepts, the first of its remedy first.

    text: of the plan, as it was checked. A way is left out where it brings another finding, or
    where the file does not let it be written. None is offered where a carriage return alone ends
    lines, since programs do not agree on how lines are counted then.
    """
    found: dict[Finding, tuple[Fix, ...]] = {}
    if _ALONE.search(text):
        return found
    for finding in result.findings:
        if finding.acceptance is None:
            made = tuple(_fixes(finding, text, result.file))
            if made:
                found[finding] = made
    return found


def _fixes(finding: Finding, text: str, file: str) -> Iterator[Fix]:
    clearing = [
        trial.changes
        for trial in finding.trials
        if set(finding.identities) <= set(trial.clears) and not trial.brings
    ]
    for changes in clearing[:MOST]:
        made = with_changes(text, changes, file)
        if not made.refused and _is_as_meant(text, changes, made.text, file):
            yield Fix(changes, replacements(text, made.text))


def _is_as_meant(text: str, changes: Changes, new: str, file: str) -> bool:
    """Whether a text says what was to be changed in another, and nothing else."""
    try:
        return is_amended(load_plan(file, text=text), changes, load_plan(file, text=new))
    except (PlanUnusable, Mistake, ValueError, KeyError):
        return False
