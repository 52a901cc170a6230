"""What follows from a wire that leads to the wrong terminal: mended where that is mended."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from wattproof.finding import Finding, Identity
from wattproof.plan.amend import Change

_ENDS: Final = ("from", "to")
"""The keys of a wire that say where it leads."""


def with_remedies_of_causes(findings: Sequence[Finding]) -> list[Finding]:
    """Findings with the remedy of what they come from, where that is a wire led wrongly.

    Tried: they are gone once it is led elsewhere. Their own remedy, such as a larger battery, would
    fit an installation that nobody meant.
    """
    causes = [(cause, set(cleared)) for cause, cleared in _misled(findings)]
    return [_following(finding, causes) for finding in findings]


def _misled(findings: Sequence[Finding]) -> Iterator[tuple[Finding, tuple[Identity, ...]]]:
    for finding in findings:
        for trial in finding.trials[:1]:
            leads = all(isinstance(c, Change) and c.key in _ENDS for c in trial.changes)
            if leads and set(finding.identities) <= set(trial.clears):
                yield finding, trial.clears


def _following(finding: Finding, causes: list[tuple[Finding, set[Identity]]]) -> Finding:
    for cause, cleared in causes:
        if finding is not cause and set(finding.identities) <= cleared:
            remedy = f"{cause.remedy}; with that this is gone too"
            return finding._replace(remedy=remedy, ways=cause.ways, trials=cause.trials)
    return finding
