"""How much of a body of rules was seen in public text, and how much is from memory: counted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any, NamedTuple

from wattproof.codes.body import BodyOfRules
from wattproof.codes.tables import is_verified, table, tables


class Seen(NamedTuple):
    """How many were seen in a published copy, first or second hand, of how many there are."""

    seen: int
    of: int

    def __str__(self) -> str:
        return f"{self.seen} of {self.of}"


@cache
def figures_and_rows(body: BodyOfRules) -> Seen:
    """The single figures of a body and the rows of the tables that it reads."""
    figures = list(_figures(body.data))
    rows = [
        is_verified(row) for name in sorted(set(_tables(body.data))) for row in table(name).rows
    ]
    return Seen(sum(figures) + sum(rows), len(figures) + len(rows))


def _figures(data: Mapping[str, Any]) -> Iterator[bool]:
    """Whether each figure or clause in a body's file was seen."""
    if isinstance(data.get("verified"), bool):
        yield data["verified"]
    for value in data.values():
        if isinstance(value, Mapping):
            yield from _figures(value)


def _tables(data: Mapping[str, Any]) -> Iterator[str]:
    """Names of the tables that a body's file names."""
    for value in data.values():
        if isinstance(value, Mapping):
            yield from _tables(value)
        elif isinstance(value, str) and value in tables():
            yield value


def said(bodies: Sequence[tuple[BodyOfRules, Seen]]) -> str:
    """The shares in a sentence; of each body with the clauses of rules that rest on it."""
    shares = [
        f"{clauses} clauses and {figures_and_rows(body)} figures and table rows of {body.title}"
        for body, clauses in bodies
    ]
    return f"Seen in public text: {'; '.join(shares)}. The others are from memory."
