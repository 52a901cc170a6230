"""A new text of a plan as edits of the one that is open, no larger than what changes."""

from __future__ import annotations

from collections.abc import Iterable

from lsprotocol.types import TextEdit, WorkspaceEdit

from wattproof.amend.replacements import Replacement, replacements
from wattproof.editor.documents import Document


def edit_to(document: Document, new: str) -> WorkspaceEdit:
    """What makes a new text of an open one."""
    return edit_of(document, replacements(document.plan_text, new))


def edit_of(document: Document, made: Iterable[Replacement]) -> WorkspaceEdit:
    """Replacements in the text of a plan, as an editor makes them."""
    starts = [len(document.text) - len(document.plan_text)]
    for line in document.plan_text.split("\n"):
        starts.append(starts[-1] + len(line) + 1)

    def offset(line: int, column: int) -> int:
        return starts[line - 1] + column - 1

    lines = document.lines
    edits = [
        TextEdit(lines.between(offset(r.line, r.column), offset(r.end_line, r.end_column)), r.text)
        for r in made
    ]
    return WorkspaceEdit(changes={document.uri: edits})
