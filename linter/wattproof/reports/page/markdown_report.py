"""What a check found, as Markdown for a comment on a pull request or the page of a build."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from wattproof.engine import Result
from wattproof.finding import Finding
from wattproof.reports.curves import data as curves_data
from wattproof.reports.findings import glance, summary
from wattproof.reports.findings.choices import not_chosen
from wattproof.reports.findings.telling import (
    Numbers,
    all_at_once,
    as_told,
    numbered_findings,
    together_words,
    told_in_order,
    trial_words,
)
from wattproof.reports.findings.workings import short_lines
from wattproof.reports.page import array_tables, energy_tables, reading_tables
from wattproof.reports.writing.markdown import code, escaped, marked, row, table_lines
from wattproof.reports.writing.tables import Table
from wattproof.reports.writing.wording import (
    HAZARD_WORDS,
    STANDING,
    VERDICT_WORDS,
    margin_words,
    set_at,
    set_words,
)
from wattproof.source import Place

if TYPE_CHECKING:
    from wattproof.choosing.layouts import Layouts
    from wattproof.study import Study

_HEADS: Final = ("", "Level, hazard", "Finding", "Where", "Remedy")


@dataclass(frozen=True)
class WithTables:
    """A plan's result, with the tables of its study that a reader is shown, folded away."""

    result: Result
    tables: Sequence[Table] = ()
    layouts: Layouts | None = None


def with_tables(study: Study | None, result: Result, layouts: Layouts | None = None) -> WithTables:
    """A result with where its arrays work, its sun and use, and its readings."""
    if study is None:
        return WithTables(result)
    inputs = [curves_data.read(found) for found in study.curves.curves]
    tables = (
        *array_tables.tables_of(inputs),
        *energy_tables.tables_of(study.energy.balances),
        *reading_tables.tables_of(study.readings),
    )
    return WithTables(result, tables, layouts)


def render(plans: Sequence[WithTables]) -> str:
    """The report on some plans."""
    lines: list[str] = []
    for each in plans:
        lines.extend(_plan(each.result))
        lines.extend(_layouts(each.layouts))
        lines.extend(_tables(each.tables))
    lines += ["---", "", escaped(STANDING)]
    return "\n".join(lines) + "\n"


def _plan(result: Result) -> Iterator[str]:
    yield f"## {escaped(result.title or result.file)}"
    yield ""
    by = f", by {escaped(result.code_title)}" if result.code_title else ""
    yield f"{code(result.file)}{by}"
    yield ""
    if result.seen:
        yield escaped(result.seen)
        yield ""
    verdict = glance.verdict_of(result)
    yield f"**{escaped(f'{verdict.signal}: {verdict.says}.')}**"
    yield ""
    ran = summary.ran(result)
    yield f"{summary.counted(result)}{f'; {ran}' if ran else ''}."
    yield ""
    if left := summary.elsewhere(result):
        yield f"Not run in this setting: {marked('; '.join(left))}."
        yield ""
    if result.problems:
        for problem in result.problems:
            instead = f" Instead: {marked(problem.instead)}." if problem.instead else ""
            yield f"- {_place(problem.place)} {marked(problem.message)}.{instead}"
        yield ""
        return
    yield from _set(result)
    choices = not_chosen(result)
    if choices is not None:
        yield f"Not chosen yet: {marked(choices.words)} {marked(choices.waits)}".rstrip()
        yield ""
    yield from _findings(result)
    yield from _assumed(result)


def _findings(result: Result) -> Iterator[str]:
    numbers = numbered_findings(result)
    findings = as_told(result)
    if not findings:
        return
    yield row(_HEADS)
    yield row("--" for _ in _HEADS)
    for finding in findings:
        yield row(_cells(finding, numbers))
    yield ""
    stories = told_in_order(result)
    together = [words for story in stories if (words := together_words(story, numbers))]
    for words in together:
        yield f"- {marked(words)}."
    if words := all_at_once(result, numbers):
        together.append(words)
        yield f"- Tried: {marked(words)}."
    if together:
        yield ""
    for finding in findings:
        yield from _whole(finding, numbers)


def _cells(finding: Finding, numbers: Numbers) -> Iterator[str]:
    yield str(numbers[finding])
    grave = f"**{finding.level}**" if finding.level == "error" else finding.level
    yield f"{grave}, {HAZARD_WORDS[finding.hazard]}" + (", accepted" if finding.acceptance else "")
    yield marked(finding.message + (f", {finding.when}" if finding.when else ""))
    yield _place(finding.place)
    yield marked(glance.remedy_of(finding))


def _whole(finding: Finding, numbers: Numbers) -> Iterator[str]:
    """What the table leaves out, folded away."""
    yield "<details>"
    yield f"<summary>{numbers[finding]}: {escaped(finding.rule)}</summary>"
    yield ""
    if finding.caution is not None:
        yield f"**{finding.caution.signal}** {marked(finding.caution.text)}"
        yield ""
    yield marked(finding.explanation)
    yield ""
    yield from _items(finding, numbers)
    yield ""
    yield "</details>"
    yield ""


def _items(finding: Finding, numbers: Numbers) -> Iterator[str]:
    for outcome in trial_words(finding, numbers):
        yield f"- Tried: {marked(outcome)}"
    if finding.verdict == "likely":
        yield f"- Likely: {VERDICT_WORDS[finding.verdict]}"
    for assumption in finding.assumptions:
        yield f"- Assumed: {marked(assumption.says)}"
    for line in short_lines(finding.values):
        yield f"- {marked(line)}"
    if margin := margin_words(finding.margin):
        yield f"- Margin: {margin}"
    for clause in finding.basis:
        yield f"- Basis: {escaped(clause)}"
    for other in finding.alike:
        yield f"- Also {_place(other.place)} {marked(other.message)}"
    for related in finding.related:
        yield f"- See {_place(related.place)} {marked(related.words)}"
    if finding.local:
        yield f"- Ask {escaped(finding.local)}"
    if finding.acceptance is not None:
        accepted = finding.acceptance
        by = f", approved by {escaped(accepted.by)}" if accepted.by else ""
        until = f", until {accepted.until}" if accepted.until else ", with no end date"
        yield f"- Accepted: {escaped(accepted.reason)}{by}{until}"


def _assumed(result: Result) -> Iterator[str]:
    if not result.uses:
        return
    yield "<details>"
    yield "<summary>Assumed, since the plan does not say</summary>"
    yield ""
    for assumption in result.uses:
        settle = f" To settle it: {marked(assumption.instead)}." if assumption.instead else ""
        yield f"- {marked(assumption.says)}{settle}"
    yield ""
    yield "</details>"
    yield ""


def _set(result: Result) -> Iterator[str]:
    """What was set, in sight, so that nobody takes a report for one without it."""
    made = list(result.settings.all_set())
    if not made:
        return
    yield "Set for this check:"
    yield ""
    for each in made:
        reason = f" Reason: {marked(each.setting.reason)}." if each.setting.reason else ""
        yield f"- {marked(set_words(each))} ({code(set_at(each.setting))}).{reason}"
    yield ""


def _layouts(layouts: Layouts | None) -> Iterator[str]:
    if layouts is None:
        return
    from wattproof.reports.layouts import markdown  # of few reports

    yield "### Layouts"
    yield ""
    yield from markdown.section(layouts)


def _tables(tables: Sequence[Table]) -> Iterator[str]:
    for table in tables:
        yield "<details>"
        yield f"<summary>{escaped(table.title)}</summary>"
        yield ""
        yield from table_lines(table)
        yield ""
        yield "</details>"
        yield ""


def _place(place: Place) -> str:
    return code(str(place))
