"""The sheet of questions in 80 columns, with boxes to tick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from wattproof.question import Question
from wattproof.reports.writing.columns import hanging, labelled

_BOX: Final = "[ ] "


def render(file: str, title: str, questions: Sequence[Question]) -> str:
    """The sheet of one plan."""
    lines = [*labelled("Plan", file, keep=True), *labelled("", title), ""]
    asked = [q for q in questions if not q.marginal]
    marginal = [q for q in questions if q.marginal]
    if not asked:
        lines.append("Nothing has to be looked up.")
    else:
        lines += ["Look up at the installation, and write into the plan", ""]
    for number, question in enumerate(asked, start=1):
        lines += [*_question(number, question), ""]
    if marginal:
        lines += ["Near a limit, by weather or use: nothing to look up", ""]
        for question in marginal:
            lines += [*hanging(question.line, first="  - ", margin=4), ""]
    return "\n".join(lines).rstrip("\n") + "\n"


def _question(number: int, question: Question) -> Iterator[str]:
    first = f"{_BOX}{number:>2}. "
    yield from hanging(question.line, first=first, margin=len(first))
    indent = len(first)
    yield from labelled("Where", question.where, indent=indent)
    yield from labelled("Write", question.written, indent=indent)
    for label, place in zip(question.labels, question.places, strict=True):
        shown = f"`{label.subject}` {'.' * 12}  line {place.line}"
        yield from labelled("", shown, indent=indent, keep=True)
    worst = question.decides[0]
    yield from labelled("At worst", f"{worst.message} ({worst.rule})", indent=indent)
