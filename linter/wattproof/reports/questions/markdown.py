"""The sheet of questions in Markdown, with boxes to tick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wattproof.question import Question
from wattproof.reports.writing.markdown import marked


def render(title: str, questions: Sequence[Question]) -> str:
    """The sheet of one plan."""
    return "\n".join(("# " + marked(title or "What to look up"), "", *section(questions))) + "\n"


def section(questions: Sequence[Question]) -> Iterator[str]:
    """The questions as a list of boxes, and below it what is near a limit."""
    asked = [q for q in questions if not q.marginal]
    if not asked:
        yield "Nothing has to be looked up."
    for question in asked:
        yield f"- [ ] {marked(question.line)}"
        yield f"  - Where: {marked(question.where)}"
        if question.instead:
            yield f"  - Write: {marked(question.written)}"
        worst = question.decides[0]
        yield f"  - At worst: {marked(worst.message)} ({marked(worst.rule)})"
    marginal = [q for q in questions if q.marginal]
    if marginal:
        yield ""
        yield "Near a limit, by weather or use: nothing to look up."
        yield ""
        yield from (f"- {marked(question.line)}" for question in marginal)
