"""The outline of a plan: its families, and what each declares."""

from __future__ import annotations

from typing import Final

from lsprotocol.types import DocumentSymbol, SymbolKind

from wattproof.editor.documents import Document
from wattproof.editor.words import Path, Word

INNER: Final = (("datasheets", "modules"), ("datasheets", "cables"), ("site", "places"))
"""Mappings of names that lie below another key."""


def symbols(document: Document) -> list[DocumentSymbol]:
    """Keys at the top, with what stands under a name in each; none where it cannot be read."""
    words = document.words
    return _level(document, (), words)


def _level(document: Document, above: Path, words: list[Word]) -> list[DocumentSymbol]:
    depth = len(above)
    deeper = depth == 0 or (depth == 1 and above[0] != "title") or above in INNER
    if not deeper:
        return []
    found = []
    own = [w for w in words if w.path[:depth] == above]
    for word in own:
        if not word.is_key or len(word.path) != depth + 1:
            continue
        inside = [w for w in own if w.path[: depth + 1] == word.path]
        lines = document.lines
        found.append(
            DocumentSymbol(
                name=word.text or "?",
                kind=SymbolKind.Namespace if depth == 0 else SymbolKind.Object,
                range=lines.between(word.start, max(w.end for w in inside)),
                selection_range=lines.between(word.start, word.end),
                detail=_detail(word, inside),
                children=_level(document, word.path, inside) or None,
            )
        )
    return found


def _detail(word: Word, inside: list[Word]) -> str | None:
    """What tells one from another at a glance: a value alone, or the ends of a wire."""
    values = [w for w in inside if not w.is_key]
    if len(inside) == 2 and len(values) == 1 and values[0].path == word.path:
        return values[0].text[:80]
    ends = [w.text for key in ("from", "to") for w in values if w.path == (*word.path, key)]
    return " → ".join(ends) if len(ends) == 2 else None
