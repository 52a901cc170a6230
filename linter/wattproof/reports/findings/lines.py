"""Findings one a line, for programs that read lines: editors, and the logs of build servers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from wattproof.engine import Result
from wattproof.finding import Finding, Level
from wattproof.reports.findings.glance import headline
from wattproof.reports.findings.telling import as_told
from wattproof.reports.writing.columns import clean
from wattproof.source import Place

UNUSABLE: Final = "plan-unusable"
_COMMANDS: Final[dict[Level, str]] = {"error": "error", "warning": "warning", "note": "notice"}


def short(results: Sequence[Result]) -> str:
    """`FILE:LINE:COLUMN: LEVEL: MESSAGE [RULE]`, the form that compilers have."""
    return "".join(
        f"{clean(place.file)}:{place.line}:{place.column}: {level}: {clean(message)} [{rule}]\n"
        for place, level, message, rule, _ in _entries(results)
    )


def workflow_commands(results: Sequence[Result]) -> str:
    """Workflow commands, by which hosts of repositories mark the lines of a change.

    `::LEVEL file=…,line=…,endLine=…,col=…,title=…::MESSAGE`, with %, carriage return and line
    feed written as %25, %0D, %0A, and in properties : and , as %3A and %2C.
    """
    return "".join(
        f"::{_COMMANDS[level]} file={_property(place.file)},line={place.line},"
        f"endLine={place.end_line},col={place.column},title={_property(rule)}"
        f"::{_data(f'{message}. {remedy}'.strip())}\n"
        for place, level, message, rule, remedy in _entries(results)
    )


def _entries(results: Sequence[Result]) -> Iterator[tuple[Place, Level, str, str, str]]:
    """Place, level, message, rule and remedy of each problem, and of each finding that is new and
    not accepted."""
    for result in results:
        for problem in result.problems:
            yield problem.place, "error", problem.message, UNUSABLE, problem.instead
        for finding in as_told(result):
            if finding.acceptance is None and finding.is_new:
                yield _entry(finding)


def _entry(finding: Finding) -> tuple[Place, Level, str, str, str]:
    return finding.place, finding.level, headline(finding), finding.rule, finding.remedy


def _data(text: str) -> str:
    return clean(text).replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
