"""Every word of a plan's text with where it stands: keys, names and values, exactly as written."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple, TypeAlias

from wattproof.amend.written import Document, Mapping, Scalar, Sequence, Written
from wattproof.source import PlanUnusable, parse_on

Path: TypeAlias = tuple[str | int, ...]


class Word(NamedTuple):
    """A scalar. path: of keys and numbers that lead to it, its own last where it is a key.

    start, end: of what is written, quotes left out. plain: False where quotes or signs in them make
    the text another than what it means.
    """

    text: str
    path: Path
    is_key: bool
    start: int
    end: int
    plain: bool

    def holds(self, offset: int) -> bool:
        """Whether a cursor is on it, or just behind it."""
        return self.start <= offset <= self.end


def words_of(text: str) -> list[Word]:
    """All words, in the order of the text; none where it is no YAML, or too large or deep."""
    try:
        parse_on(text, "")
    except PlanUnusable:
        return []
    root = Document(text).root
    return list(_walk(root, (), text)) if root is not None else []


def word_at(words: list[Word], offset: int) -> Word | None:
    """The word under a cursor; None where it stands between words."""
    return next((word for word in words if word.holds(offset)), None)


def _walk(node: Written, path: Path, text: str) -> Iterator[Word]:
    if isinstance(node, Scalar):
        yield _word(node, path, text, is_key=False)
    elif isinstance(node, Sequence):
        for number, item in enumerate(node.items):
            yield from _walk(item, (*path, number), text)
    elif isinstance(node, Mapping):
        for key, value in node.pairs:
            if isinstance(key, Scalar):
                below = (*path, key.value)
                yield _word(key, below, text, is_key=True)
                yield from _walk(value, below, text)


def _word(node: Scalar, path: Path, text: str, *, is_key: bool) -> Word:
    start, end = node.body, node.end
    if node.style in ("'", '"') and end - start >= 2:
        start, end = start + 1, end - 1
    plain = text[start:end] == node.value
    return Word(node.value, path, is_key, start, end, plain)
