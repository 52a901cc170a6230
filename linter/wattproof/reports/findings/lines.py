"""Findings one a line, for formats whose readers read lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from wattproof.engine import Result
from wattproof.finding import Level
from wattproof.reports.findings.glance import headline, remedy_of
from wattproof.reports.findings.telling import as_told
from wattproof.source import Place

UNUSABLE: Final = "plan-unusable"


class Line(NamedTuple):
    """A finding, or what makes a plan unusable."""

    place: Place
    level: Level
    message: str
    rule: str
    remedy: str


def lines_of(results: Sequence[Result]) -> Iterator[Line]:
    """Each problem, and each finding that is new and that nobody accepted."""
    for result in results:
        for problem in result.problems:
            yield Line(problem.place, "error", problem.message, UNUSABLE, problem.instead)
        for finding in as_told(result):
            if finding.acceptance is None and finding.is_new:
                place, rule = finding.place, finding.rule
                yield Line(place, finding.level, headline(finding), rule, remedy_of(finding))
