"""What the reader answers to a plan that it cannot use, followed as a builder would follow it.

An answer is put where its problem stands, and the plan is read again, until it can be used, or
nothing more says what to write.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Final, NamedTuple

from pydantic import BaseModel

from wattproof.loading import load_study
from wattproof.plan.layouts import Layout
from wattproof.quantities import Quantity
from wattproof.source import Block, Items, Node, Place, PlanUnusable, Problem, Text, parse_on

MOST_ROUNDS: Final = 8
"""Answers that one slip may take, one after the other."""
_FIRST: Final = re.compile(r"(?:call the wire|write) `([^`]+)`")
_NEXT: Final = re.compile(r"(?:,? or|,)(?: write| of)? `([^`]+)`")
_PAIR: Final = re.compile(r"([a-z_]+): ")
_LEFT_OPEN: Final = re.compile(r"…|\bNAME\b|:$")


class Answer(NamedTuple):
    """What may be written at a problem.

    offers: each text that it proposes. sure: True where it proposes one, and asks nothing.
    """

    problem: Problem
    offers: tuple[str, ...]
    sure: bool


class Read(NamedTuple):
    """What came of reading a text. meant: all that it says, as plain data; None if unusable."""

    meant: Any
    problems: tuple[Problem, ...]


class Followed(NamedTuple):
    """Where answers led: the text, what it says, and what was written in how many rounds."""

    text: str
    read: Read
    written: tuple[str, ...]
    again: Problem | None
    """A problem that stayed where its answer was written."""


def read(path: str, text: str) -> Read:
    """What a plan says."""
    try:
        return Read(plainly(load_study(path, text=text).plan), ())
    except PlanUnusable as unusable:
        return Read(None, tuple(unusable.problems))


def plainly(held: Any) -> Any:
    """What is held, without where and how it was written."""
    if isinstance(held, Quantity):
        return (f"{held.value:.9g}", held.dimension)
    if isinstance(held, Place):
        return ""
    if isinstance(held, BaseModel):
        return {k: plainly(v) for k, v in held.__dict__.items() if v is not None}
    if isinstance(held, Layout):
        return (held.inner, held.outer, held.series_first)
    if isinstance(held, dict):
        return {str(k): plainly(v) for k, v in held.items()}
    if isinstance(held, list | tuple):
        return [plainly(each) for each in held]
    return str(held)


def answer_of(problem: Problem) -> Answer:
    """What a problem proposes to write."""
    told = problem.instead
    first = _FIRST.search(told)
    if first is None or (first.start() > 0 and not re.match(r"[^`]*[;,] $", told[: first.start()])):
        return Answer(problem, (), False)
    offers, end = [first[1]], first.end()
    while more := _NEXT.match(told, end):
        offers.append(more[1])
        end = more.end()
    rest = told[end:]
    if any(_LEFT_OPEN.search(each) for each in offers):
        return Answer(problem, (), False)
    sure = (
        len(offers) == 1
        and first.start() == 0
        and not re.match(r" (if|where|for|in)\b|,? or\b|,(?! for `| its)", rest)
    )
    return Answer(problem, tuple(offers), sure and not rest.startswith(" ("))


def followed(path: str, text: str, before: Read) -> Followed:
    """Where it leads to write the first sure answer, and the next, as long as there is one."""
    written: list[str] = []
    now = before
    for _ in range(MOST_ROUNDS):
        answers = [answer for p in now.problems if (answer := answer_of(p)).sure]
        if now.meant is not None or not answers:
            break
        changed = put(text, answers[0].problem, answers[0].offers[0])
        after = read(path, changed)
        written.append(answers[0].offers[0])
        if stays(answers[0].problem, after):
            return Followed(changed, after, tuple(written), answers[0].problem)
        text, now = changed, after
    return Followed(text, now, tuple(written), None)


def stays(problem: Problem, after: Read) -> bool:
    """Whether a problem is still there, in whatever column."""
    return any(
        (p.message, p.place.line) == (problem.message, problem.place.line) for p in after.problems
    )


def put(text: str, problem: Problem, offer: str) -> str:
    """The text with an offer where its problem stands."""
    start, end = span(text, problem.place)
    pair = _PAIR.match(offer)
    if pair is not None:
        for key, value in _pairs(parse_on(text, problem.place.file)[0]):
            own = key.place == problem.place or (
                value.place == problem.place and key in (pair[1], pair[1].rstrip("s"))
            )
            if own:
                start, end = span(text, key.place)[0], span(text, value.place)[1]
                if isinstance(value, Text) and not value and value.place.column == 1:
                    end = start + len(key) + 1
    return text[:start] + offer + text[end:]


def span(text: str, place: Place) -> tuple[int, int]:
    """Where a place begins and ends in a text."""
    starts = [0]
    for line in text.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    return starts[place.line - 1] + place.column - 1, starts[
        place.end_line - 1
    ] + place.end_column - 1


def _pairs(node: Node) -> Iterator[tuple[Text, Node]]:
    if isinstance(node, Block):
        yield from node.items()
    for each in (
        node.values() if isinstance(node, Block) else node if isinstance(node, Items) else ()
    ):
        yield from _pairs(each)
