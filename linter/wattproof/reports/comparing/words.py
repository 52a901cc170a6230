"""What two checks beside each other come to, in words that all forms share."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from wattproof.comparison import Comparison, Moved, Pair
from wattproof.finding import Known
from wattproof.reports.findings.verdict import did_fail
from wattproof.reports.writing.wording import margin_words, numbered
from wattproof.words import enumerated

NO_FIGURE: Final = "none"


class Line(NamedTuple):
    """A finding that came, went or changed. was: what it was before; empty where that says all."""

    level: str
    message: str
    rule: str
    was: str = ""


class Part(NamedTuple):
    """Findings of one kind of change."""

    title: str
    lines: tuple[Line, ...]


def parts(made: Comparison) -> Iterator[Part]:
    """The findings that differ, what is worst first; kinds without any are left out."""
    outcome = made.outcome
    told = (
        Part("New", tuple(_line(each) for each in outcome.come)),
        Part("Worse", tuple(_changed(pair) for pair in outcome.worse)),
        Part("Better", tuple(_changed(pair) for pair in outcome.better)),
        Part("Gone", tuple(_line(each) for each in outcome.gone)),
    )
    yield from (part for part in told if part.lines)


def unusable(made: Comparison) -> list[str]:
    """Which of the two could not be checked, and why."""
    said = []
    for name, result in ((made.name, made.old), (made.new.file, made.new)):
        for problem in result.problems:
            said.append(f"{name} cannot be checked: {problem.place}: {problem.message}")
        if not result.problems and did_fail(result):
            said.append(f"{name} was not checked in full: `wattproof check` tells why")
    return said


def summary(made: Comparison) -> str:
    """What it comes to, in a sentence."""
    if made.old.problems or made.new.problems:
        return "The two cannot be compared."
    told = [f"{len(part.lines)} {part.title.lower()}" for part in parts(made)]
    same = len(made.outcome.same)
    findings = enumerated(told) if told else "nothing new, worse, better or gone"
    figures = numbered(len(made.moved), "figure")
    moved = (
        f"{figures} moved by more than 1 %" if made.moved else "no figure moved by more than 1 %"
    )
    return f"Findings: {findings}; {same or 'none'} as before. {moved[0].upper()}{moved[1:]}."


def figure_of(moved: Moved) -> tuple[str, str, str, str, str]:
    """What moved: of what, in which state, which quantity, and how it was and is."""
    figure = moved.new or moved.old
    assert figure is not None
    old = str(moved.old.value) if moved.old else NO_FIGURE
    new = str(moved.new.value) if moved.new else NO_FIGURE
    return figure.subject, figure.state, figure.quantity, old, new


def _line(known: Known) -> Line:
    return Line(known.level, known.message, known.rule, margin_words(known.margin))


def _changed(pair: Pair) -> Line:
    old, new = pair
    was: list[str] = [old.level] if old.level != new.level else []
    before, after = margin_words(old.margin), margin_words(new.margin)
    if before != after:
        was.append(before or "no margin")
    now = f", now {after}" if after else ""
    return Line(new.level, new.message, new.rule, f"was {enumerated(was)}{now}" if was else "")
