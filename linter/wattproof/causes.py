"""Findings of one rule and one cause told as one, with all their components.

What a person counts is the number of things to mend: four alike strings whose fuses are too large
are one. Each finding stays whole inside the one that it is folded into.
"""

from __future__ import annotations

from collections.abc import Iterable

from wattproof.finding import Finding


def folded(findings: Iterable[Finding]) -> list[Finding]:
    """Findings in the order of reports, alike ones folded into the gravest of them.

    Findings that somebody accepts stay alone, so that each acceptance is seen beside its own.
    """
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for finding in sorted(findings, key=lambda f: f.rank):
        groups.setdefault(_key(finding), []).append(finding)
    return sorted(
        (first._replace(alike=tuple(rest)) for first, *rest in groups.values()),
        key=lambda f: f.order,
    )


def _key(finding: Finding) -> tuple[object, ...]:
    """What findings have in common that are told as one."""
    alone = finding.part == "plan" and not finding.cause
    if finding.acceptance is not None or alone:
        return (finding.identity, finding.place, finding.message)
    return (finding.rule, finding.cause, finding.level, finding.verdict, finding.when)
