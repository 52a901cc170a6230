"""The texts that are open in the editor, and what each of them is to us."""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal, TypeAlias

from lsprotocol.types import PositionEncodingKind
from pygls.uris import from_fs_path, to_fs_path

from wattproof.editor.keys import Keys
from wattproof.editor.names import Name, names_of
from wattproof.editor.positions import Lines
from wattproof.editor.words import Word, word_at, words_of
from wattproof.likeness import kind_of
from wattproof.settings import FILE_NAMES
from wattproof.source import MAX_BYTES, PlanUnusable, read_text

Kind: TypeAlias = Literal["plan", "parts", "settings", ""]


@dataclass(frozen=True)
class Document:
    """A text as it was at some moment.

    path: of its file, from the root. version: as the editor counts them.
    """

    uri: str
    path: str
    text: str
    version: int | None = None
    encoding: str = PositionEncodingKind.Utf16.value

    @cached_property
    def kind(self) -> Kind:
        """What it is; empty for what is none of ours, of which nothing is told."""
        if os.path.basename(self.path).lower() in FILE_NAMES:
            return "settings"
        return kind_of(self.text[:MAX_BYTES])

    @cached_property
    def lines(self) -> Lines:
        """Its lines."""
        return Lines(self.text, self.encoding)

    @property
    def plan_text(self) -> str:
        """The text as a plan is read, without the mark that some editors begin a file with."""
        return self.text.removeprefix("\ufeff")

    @cached_property
    def words(self) -> list[Word]:
        """Its keys and values; none where it cannot be read as YAML."""
        return words_of(self.text) if len(self.text) <= MAX_BYTES else []

    def word_at(self, offset: int) -> Word | None:
        """The word under a cursor."""
        return word_at(self.words, offset)

    def names(self, keys: Keys) -> list[Name]:
        """Every name in it."""
        return names_of(self.words, keys)

    def name_at(self, offset: int, keys: Keys) -> Name | None:
        """The name under a cursor."""
        return next((name for name in self.names(keys) if name.holds(offset)), None)


@dataclass
class Documents:
    """All texts that are open, by their paths with links resolved."""

    encoding: str = PositionEncodingKind.Utf16.value
    _open: dict[str, Document] = field(default_factory=dict)

    def put(self, uri: str, text: str, version: int | None) -> Document:
        """Keep a text that was opened or changed."""
        path = path_of(uri)
        document = Document(uri, path, text, version, self.encoding)
        self._open[os.path.realpath(path)] = document
        return document

    def close(self, uri: str) -> None:
        """Forget a text."""
        self._open.pop(os.path.realpath(path_of(uri)), None)

    def get(self, uri: str) -> Document | None:
        """An open text; None where it is not open."""
        return self._open.get(os.path.realpath(path_of(uri)))

    def of_path(self, path: str) -> Document:
        """A text that is open, or else its file; an empty one where that cannot be read."""
        held = self._open.get(os.path.realpath(path))
        if held is not None:
            return held
        try:
            text = read_text(path, shown_as=path)
        except PlanUnusable:
            text = ""
        return Document(from_fs_path(path) or path, path, text, None, self.encoding)

    def plans(self) -> list[Document]:
        """The plans that are open."""
        return [document for document in self._open.values() if document.kind == "plan"]

    def unsaved(self) -> dict[str, str]:
        """Every text by the file that it is to be saved in."""
        return {path: held.plan_text for path, held in self._open.items()}


def path_of(uri: str) -> str:
    """The path of a file; one in the current folder for a text that has no file yet."""
    path = to_fs_path(uri)
    if path:
        return path
    name = "".join(sign if sign.isalnum() or sign in "-." else "-" for sign in uri)
    return os.path.abspath(name[-80:])
