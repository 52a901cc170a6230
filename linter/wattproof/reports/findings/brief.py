"""What a check found, as short as it can be told without leaving out a danger.

First the head; then each finding in a few lines: what is wrong, where, what may happen, what to do,
and on what basis. Why, the numbers and whom to ask are in the full text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final, TypeAlias

from wattproof.engine import Result
from wattproof.finding import Finding
from wattproof.reports.findings.glance import headline, remedy_of
from wattproof.reports.findings.head import about, head_lines, verdict_line, verdict_lines
from wattproof.reports.findings.since_lines import since_lines
from wattproof.reports.findings.summary import ran
from wattproof.reports.findings.telling import all_at_once, as_told, numbered_findings
from wattproof.reports.findings.text import problem_lines, settings_lines
from wattproof.reports.writing.columns import LABEL, cut, hanging, labelled, screen, width
from wattproof.reports.writing.paint import Paint, plain
from wattproof.reports.writing.wording import STANDING, numbered

_INDENT: Final = 4
_SOME: Final = 5
"""Findings up to which there is room for what may happen."""
_FEW: Final = 2  # lines of a caution then
_OTHERS: Final = 2
"""Others of one cause whose own remedy is told."""
_MOST: Final = (
    7  # lines of a finding, so long as its remedy leaves room for more than one of caution
)

_ANOTHER: Final = 120
"""Columns of what a remedy brings."""
_NAME: Final = re.compile("`[^`]+`")

Told: TypeAlias = dict[tuple[str, ...], int]
"""What remedies bring, by rule and names, and the number of the finding where it is told first."""


def render(results: Sequence[Result], *, paint: Paint = plain) -> str:
    """The short text on some plans."""
    lines: list[str] = []
    for result in results:
        lines.extend(_plan(result, paint))
        lines.append("")
    lines.extend(labelled("Remember", STANDING))
    return "\n".join(lines) + "\n"


def quiet(results: Sequence[Result], *, paint: Paint = plain) -> str:
    """The verdict alone, one line a plan."""
    return "".join(f"{result.file}: {verdict_line(result, paint)}\n" for result in results)


def _plan(result: Result, paint: Paint) -> Iterator[str]:
    yield from about(result.file, result.title, result.code, result.code_title)
    yield from head_lines(result, paint)
    if result.problems:
        yield from problem_lines(result.problems)
    else:
        yield from _findings(result)
        yield from settings_lines(result.settings)
        yield from since_lines(result)
        yield from _left_out(result)
    yield ""
    yield from verdict_lines(result, paint)


def _findings(result: Result) -> Iterator[str]:
    numbers = numbered_findings(result)
    told = [f for f in as_told(result) if f.level != "note" or f.acceptance is not None]
    most = _FEW if len(told) <= _SOME else 1
    brought: Told = {}
    for finding in told:
        yield ""
        yield from _finding(finding, numbers[finding], result.file, most, brought)
    if words := all_at_once(result, numbers):
        yield ""
        yield from labelled("At once", f"tried: {words}", most=most)


def _finding(finding: Finding, number: int, file: str, most: int, brought: Told) -> Iterator[str]:
    def line(label: str, text: str, most: int | None = None) -> Iterator[str]:
        return labelled(label, text, indent=_INDENT, keep=True, most=most)

    head = list(hanging(headline(finding), first=f"{number:>2}. ", margin=_INDENT))
    yield from head
    if finding.acceptance is not None:
        yield from line("Where", str(finding.place))
        yield from line("Accepted", finding.acceptance.reason)
        return
    remedy = list(
        line("Remedy", f"{remedy_of(finding, _OTHERS)}{_tried(finding, number, brought)}")
    )
    where = list(_where(finding, file))
    if finding.caution is not None:
        room = _MOST - len(head) - len(remedy) - len(where)
        caution = finding.caution
        yield from line(caution.signal, caution.text, min(max(room, 1), most))
    yield from remedy
    yield from where


def _where(finding: Finding, file: str) -> Iterator[str]:
    """Line of the plan, clause and rule, in one line; the file too, where it is a part of it."""
    own = finding.place.file == file
    place = f"line {finding.place.line}" if own else str(finding.place)
    rule, room = f" [{finding.rule}]", screen() - _INDENT - LABEL
    said = cut(f"{place}; {_basis(finding)}", room - width(rule))
    yield from labelled("Where", f"{said}{rule}", indent=_INDENT, keep=True)


def _tried(finding: Finding, number: int, told: Told) -> str:
    """What the first way of a remedy brings, where it was tried; what others bring too, once."""
    if not finding.trials:
        return ""
    trial = finding.trials[0]
    if finding.identity not in trial.clears:
        return " (tried: this alone does not clear it)"
    first = told.setdefault(("", *map(str, trial.changes)), number)
    if first != number:
        return f" (tried, as at {first})"
    if trial.brings:
        brought = trial.brings[0]
        first = told.setdefault((brought.rule, *_NAME.findall(brought.message)), number)
        if first != number:
            return f" (tried, then as at {first})"
        return f" (tried: it clears this, but then: {cut(brought.message, _ANOTHER)})"
    return " (tried: it clears this)"


def _basis(finding: Finding) -> str:
    """The clause by its number, without what it says."""
    first = finding.basis[0] if finding.basis else ""
    cited, colon, _ = first.partition("): ")
    if colon:
        return f"{cited})"
    cited, colon, _ = first.partition(": ")
    return cited if colon and len(cited) < 60 else "common practice"


def _left_out(result: Result) -> Iterator[str]:
    """What the full text has beside this."""
    parts = [ran(result)]
    if result.uses:
        parts.append(f"{numbered(len(result.uses), 'assumption')} made")
    yield ""
    more = "see `--full`, `basis RULE`" if result.findings else "`--full` shows all of it"
    yield from labelled("More", f"{'; '.join(parts)}; {more}")
    yield from labelled("", result.seen)
