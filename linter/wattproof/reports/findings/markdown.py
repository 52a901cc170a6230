"""What a check found in Markdown: the verdict, a finding a row, what to look up first.

The whole report with schedules and tables is that of `wattproof report --format markdown`.
"""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.engine import Result
from wattproof.reports.findings.choices import not_chosen
from wattproof.reports.findings.glance import (
    first_questions,
    lines_of,
    more_questions,
    verdict_of,
)
from wattproof.reports.findings.run import Run
from wattproof.reports.writing.markdown import escaped, marked, row
from wattproof.reports.writing.wording import STANDING


def render(run: Run) -> str:
    """The document."""
    lines: list[str] = []
    for result in run.results:
        lines += [*_plan(result), ""]
    return "\n".join([*lines, escaped(STANDING)]) + "\n"


def _plan(result: Result) -> Iterator[str]:
    verdict = verdict_of(result)
    title = result.title or result.file
    yield f"## {escaped(title)}"
    yield ""
    yield f"**{verdict.signal}**: {escaped(verdict.says)}"
    for problem in result.problems:
        told = f"{problem.message}: {problem.instead}"
        yield f"- {escaped(str(problem.place))} {marked(told)}"
    found = list(lines_of(result))
    if found:
        yield ""
        yield row(("no.", "level", "hazard", "what is wrong", "remedy", "where"))
        yield row(("--:", ":--", ":--", ":--", ":--", ":--"))
        for line in found:
            cells = (str(line.number), line.level, line.hazard)
            words = (marked(line.headline), marked(line.remedy), escaped(line.where))
            yield row((*cells, *words))
    asked = first_questions(result)
    if asked:
        yield ""
        yield "Look up first:"
        yield ""
        yield from (f"1. {marked(question.line)}" for question in asked)
        more = more_questions(result)
        if more:
            yield f"\nand {more} more."
    choices = not_chosen(result)
    if choices is not None:
        yield ""
        yield f"Not chosen yet: {marked(choices.words)} {marked(choices.waits)}".rstrip()
