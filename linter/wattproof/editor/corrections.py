"""What to write in the place of something that cannot be read, where the reader knows it.

Each is read again before it is offered: what it is said of is gone then, and nothing has come.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from lsprotocol.types import CodeAction, CodeActionKind, Range

from wattproof.editor.documents import Document
from wattproof.editor.edits import edit_to
from wattproof.rechecking import Rechecks
from wattproof.source import PlanUnusable, Problem

_WRITE: Final = re.compile(r"write `([^`\n]+)`")
MOST: Final = 20
"""Most corrections that are tried at once."""


def corrections(document: Document, shown: Range, texts: Rechecks) -> Iterator[CodeAction]:
    """What may be written for what cannot be read in some lines. texts: reads texts of the plan."""
    before = _problems(document.plan_text, texts)
    known = {problem.message for problem in before}
    for problem in _in(before, document, shown)[:MOST]:
        found = _WRITE.fullmatch(problem.instead)
        if found is None:
            continue
        new = _written(document.plan_text, problem, found[1])
        after = {each.message for each in _problems(new, texts)}
        if after <= known - {problem.message}:
            yield CodeAction(
                f"Write `{found[1]}`",
                CodeActionKind.QuickFix,
                is_preferred=True,
                edit=edit_to(document, new),
            )


def _in(problems: list[Problem], document: Document, shown: Range) -> list[Problem]:
    """Those that stand in some lines of a text, each on one line."""
    return [
        problem
        for problem in problems
        if problem.place.file == document.path
        and problem.place.line == problem.place.end_line
        and shown.start.line <= problem.place.line - 1 <= shown.end.line
    ]


def _written(text: str, problem: Problem, word: str) -> str:
    """The text with a word in the place of what cannot be read."""
    place = problem.place
    start = Document("", "", text).lines.start(place.line - 1)
    return text[: start + place.column - 1] + word + text[start + place.end_column - 1 :]


def _problems(text: str, texts: Rechecks) -> list[Problem]:
    try:
        texts.plan(text)
    except PlanUnusable as unusable:
        return unusable.problems
    return []
