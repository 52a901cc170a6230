"""Where what is named under the cursor is declared, and where it is referred to."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator

from lsprotocol.types import Location, Position, Range

from wattproof.editor.documents import Document, Documents
from wattproof.editor.keys import Keys
from wattproof.editor.names import CABLE, MODULE, Name
from wattproof.plan.read import part_path
from wattproof.quantities import Mistake
from wattproof.source import Place, Text

SHARED = (MODULE, CABLE)
"""Spaces of names that may stand in files of parts."""


def parts_of(document: Document, documents: Documents) -> list[Document]:
    """The files of parts that a plan names and that may be read."""
    found = []
    for word in document.words:
        if word.path[:1] == ("parts",) and not word.is_key:
            path = part_file(document, word.text)
            if path is not None:
                found.append(documents.of_path(path))
    return found


def part_file(document: Document, written: str) -> str | None:
    """The file that a plan names as one of its parts; None where it may not be read."""
    text = Text.at(written, Place(document.path, 1, 1, 1, 1))
    try:
        path = part_path(text, os.path.dirname(document.path))
    except Mistake:
        return None
    return path if os.path.isfile(path) else None


def around(document: Document, name: Name, documents: Documents) -> list[Document]:
    """The texts in which a name may stand: of a datasheet also those that share it."""
    if name.space not in SHARED:
        return [document]
    if document.kind == "parts":
        own = os.path.realpath(document.path)
        users = [
            plan
            for plan in documents.plans()
            if own in {os.path.realpath(part.path) for part in parts_of(plan, documents)}
        ]
        return [document, *users]
    return [document, *parts_of(document, documents)]


def definition(document: Document, offset: int, keys: Keys, documents: Documents) -> list[Location]:
    """Where the name under the cursor is declared; for a file of parts, that file."""
    word = document.word_at(offset)
    if word is not None and word.path[:1] == ("parts",) and not word.is_key:
        path = part_file(document, word.text)
        start = Range(Position(0, 0), Position(0, 0))
        return [Location(documents.of_path(path).uri, start)] if path is not None else []
    return _where(document, offset, keys, documents, lambda each: each.declared)


def references(
    document: Document, offset: int, keys: Keys, documents: Documents, *, declared: bool
) -> list[Location]:
    """Everywhere the name under the cursor stands. declared: where it is declared as well."""
    return _where(document, offset, keys, documents, lambda each: declared or not each.declared)


def _where(
    document: Document,
    offset: int,
    keys: Keys,
    documents: Documents,
    wanted: Callable[[Name], bool],
) -> list[Location]:
    """Where the name under the cursor stands, of the places that are wanted."""
    name = document.name_at(offset, keys)
    if name is None:
        return []
    return [
        Location(held.uri, held.lines.between(each.start, each.end))
        for held, each in standing(document, name, keys, documents)
        if wanted(each)
    ]


def standing(
    document: Document, name: Name, keys: Keys, documents: Documents
) -> Iterator[tuple[Document, Name]]:
    """Every place where a name stands, with the text that it is in."""
    for held in around(document, name, documents):
        for each in held.names(keys):
            if each.is_of == name.is_of:
                yield held, each
