"""One size for one wire: findings that each ask for a larger conductor ask for the same."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from wattproof.finding import LEVELS, Brought, Change, Finding
from wattproof.quantities import read_quantity
from wattproof.remedies.trials import Trials
from wattproof.source import Text
from wattproof.words import quoted

SIZE: Final = "cable.size"
"""The key of a wire or bond under which a remedy writes the size of its conductor."""
_INSTEAD: Final = re.compile("[,;] or ")
"""Where a remedy goes on with what may be done in place of the first."""


def with_one_size(findings: Iterable[Finding], trials: Trials) -> list[Finding]:
    """Findings of one conductor whose remedies differ in its size, each with the largest of these.

    Who buys a cable buys it once. A finding keeps its own size where the larger does not clear it,
    or brings what no remedy of one as grave brings. What is accepted, or no more than a note, asks
    for nothing.
    """
    told = list(findings)
    asking: dict[str, list[Finding]] = {}
    for finding in told:
        if finding.acceptance is None and finding.level != "note":
            for change in _sizes(finding):
                asking.setdefault(change.component, []).append(finding)
    return [_in_that_size(finding, asking, trials) for finding in told]


def _sizes(finding: Finding) -> tuple[Change, ...]:
    """What the remedy of a finding writes first, where that is one other size and nothing else."""
    first = finding.ways[0] if finding.ways else ()
    found = tuple(c for c in first if isinstance(c, Change) and c.key == SIZE)
    is_all = len(found) == len(first) and len({change.text for change in found}) == 1
    return found if is_all and finding.remedy.startswith(f"use {found[0].text} ") else ()


def _area(finding: Finding) -> float:
    """The area (m²) of the size that the remedy of a finding writes."""
    size = _sizes(finding)[0].text
    return read_quantity(Text.at(size, finding.place), "conductor size").value


def _in_that_size(
    finding: Finding, asking: Mapping[str, Sequence[Finding]], trials: Trials
) -> Finding:
    own = _sizes(finding)
    others = [each for change in own for each in asking.get(change.component, ())]
    largest = max(others, key=_area, default=finding)
    if not own or _area(largest) <= _area(finding):
        return finding
    size = _sizes(largest)[0].text
    way = tuple(change._replace(text=size) for change in own)
    trial = trials.of(way)
    level = LEVELS.index(finding.level)
    as_grave = [o for o in (finding, *others) if LEVELS.index(o.level) <= level]
    may_bring = {b.rule for other in as_grave for b in _brought(other)}
    brings = {brought.rule for brought in trial.brings} if trial is not None else set()
    if trial is None or finding.identity not in trial.clears or not brings <= may_bring:
        return finding
    instead = _INSTEAD.search(finding.remedy)
    words = f"use {size} for {quoted(c.component for c in own)} (at least {own[0].text})"
    words += finding.remedy[instead.start() :] if instead else ""
    tried = tuple(other for other in finding.trials if other.changes != finding.ways[0])
    return finding._replace(remedy=words, ways=(way, *finding.ways[1:]), trials=(trial, *tried))


def _brought(finding: Finding) -> tuple[Brought, ...]:
    """What the first way of a remedy brings, where it was tried."""
    made = (trial for trial in finding.trials if trial.changes == finding.ways[0])
    return next((trial.brings for trial in made), ())
