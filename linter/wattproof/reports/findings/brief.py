"""What a check found, as short as it can be told without leaving out a danger.

First the head; then each finding in a few lines: what is wrong, where, what may happen, what to do,
and on what basis. Why, the numbers and whom to ask are in the full text.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from wattproof.engine import Result
from wattproof.finding import Finding
from wattproof.reports.findings.glance import headline
from wattproof.reports.findings.head import about, head_lines, verdict_line, verdict_lines
from wattproof.reports.findings.since_lines import since_lines
from wattproof.reports.findings.summary import ran
from wattproof.reports.findings.telling import all_at_once, as_told, numbered_findings
from wattproof.reports.findings.text import problem_lines, settings_lines
from wattproof.reports.writing.columns import LABEL, cut, hanging, labelled, screen, width
from wattproof.reports.writing.paint import Paint, plain
from wattproof.reports.writing.wording import STANDING, numbered

_INDENT: Final = 4
_FEW: Final = 2  # lines of a caution or a remedy


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
        yield from _findings(result, paint)
        yield from settings_lines(result.settings)
        yield from since_lines(result)
        yield from _left_out(result)
    yield ""
    yield from verdict_lines(result, paint)


def _findings(result: Result, paint: Paint) -> Iterator[str]:
    numbers = numbered_findings(result)
    for finding in as_told(result):
        if finding.level == "note" and finding.acceptance is None:
            continue
        yield ""
        yield from _finding(finding, numbers[finding], paint)
    if words := all_at_once(result, numbers):
        yield ""
        yield from _few(labelled("At once", f"tried: {words}", keep=True))


def _finding(finding: Finding, number: int, paint: Paint) -> Iterator[str]:
    def line(label: str, text: str) -> Iterator[str]:
        return labelled(label, text, indent=_INDENT, keep=True)

    yield from hanging(headline(finding), first=f"{number:>2}. ", margin=_INDENT)
    yield from line("Where", str(finding.place))
    if finding.acceptance is not None:
        yield from line("Accepted", finding.acceptance.reason)
        return
    if finding.caution is not None:
        yield from _few(line(finding.caution.signal, finding.caution.text))
    yield from _few(line("Remedy", f"{finding.remedy}{_tried(finding)}"))
    rule = f" [{finding.rule}]"
    room = screen() - _INDENT - LABEL - width(rule)
    yield from line("Basis", f"{cut(_basis(finding), room)}{rule}")


def _few(lines: Iterator[str]) -> Iterator[str]:
    """At most a few lines, with a sign where more was to be said."""
    told = list(lines)
    if len(told) > _FEW:
        room = screen() - 2
        told = [*told[: _FEW - 1], f"{told[_FEW - 1][:room].rstrip(' ,;:')} …"]
    yield from told


def _tried(finding: Finding) -> str:
    """What the first way of a remedy brings, where it was tried."""
    if not finding.trials:
        return ""
    trial = finding.trials[0]
    if finding.identity not in trial.clears:
        return " (tried: this alone does not clear it)"
    if trial.brings:
        return f" (tried: it clears this, then {trial.brings[0].rule})"
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
    yield from labelled("More", f"{'; '.join(parts)}; `--full` shows all of it")
    yield from labelled("", result.seen)
