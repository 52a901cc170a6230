"""The first lines of every text on a plan: the verdict, a finding a line, what to look up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from wattproof.engine import Result
from wattproof.reports.findings.choices import not_chosen
from wattproof.reports.findings.glance import (
    Line,
    Verdict,
    first_questions,
    lines_of,
    more_questions,
    verdict_of,
)
from wattproof.reports.writing.columns import cut, few, hanging, labelled, screen, wrapped
from wattproof.reports.writing.paint import Ink, Paint, plain

_INKS: Final[tuple[Ink, ...]] = ("calm", "doubtful", "bad", "grave")
_GRAVE: Final = 2
_LEFT: Final = 12  # columns before a headline: number, hazard
_SOME: Final = 5
"""Findings up to which there is room for headlines of two lines."""


def head_lines(result: Result, paint: Paint = plain) -> Iterator[str]:
    """The head of a plan: a line for each finding, remedy and question; what is not chosen.

    Where there are few findings, a headline may take a second line.
    """
    yield from panel(verdict_of(result), paint)
    found = list(lines_of(result))
    if found:
        yield ""
    for line in found:
        yield from _finding(line, 2 if len(found) <= _SOME else 1, paint)
    asked = first_questions(result)
    if asked:
        yield ""
        yield paint("Look up first", "strong")
        for question in asked:
            yield f"  ? {cut(question.line, screen() - 4)}"
        more = more_questions(result)
        if more:
            yield f"    and {more} more: `wattproof questions` prints them as a sheet"
    choices = not_chosen(result)
    if choices is not None:
        yield ""
        yield paint("Not chosen yet", "strong")
        yield from hanging(choices.words, first="  - ", margin=4)
        yield from hanging(choices.waits, first="    ", margin=4)


def panel(verdict: Verdict, paint: Paint = plain) -> Iterator[str]:
    """The verdict in a frame."""
    rule = "=" * screen()
    yield rule
    yield from (f"  {line}" for line in _signalled(verdict, screen() - 4, paint))
    yield rule


def _signalled(verdict: Verdict, columns: int, paint: Paint) -> Iterator[str]:
    """Signal and sentence in lines, the signal painted."""
    for line in wrapped(f"{verdict.signal}: {verdict.says}", columns):
        if line.startswith(verdict.signal):
            yield f"{paint(verdict.signal, _INKS[verdict.grave])}{line[len(verdict.signal) :]}"
        else:
            yield line


def verdict_line(result: Result, paint: Paint = plain) -> str:
    """The verdict in one line."""
    verdict = verdict_of(result)
    return f"{paint(verdict.signal, _INKS[verdict.grave])}: {verdict.says}"


def verdict_lines(result: Result, paint: Paint = plain) -> Iterator[str]:
    """The verdict as the last lines of a text."""
    yield from _signalled(verdict_of(result), screen(), paint)


def danger_lines(result: Result, paint: Paint = plain) -> Iterator[str]:
    """The verdict and the gravest finding of a plan that has an error; nothing of any other."""
    if verdict_of(result).grave < _GRAVE:
        return
    yield verdict_line(result, paint)
    for line in list(lines_of(result))[:1]:
        yield from wrapped(line.headline, screen())
    yield f"`wattproof check {result.file}` tells all of it."


def about(file: str, title: str, code: str, code_title: str) -> Iterator[str]:
    """What a report is about."""
    yield from labelled("Plan", file, keep=True)
    yield from labelled("", title)
    if code:
        yield from labelled("Rules by", f"{code_title}, `code: {code}`")


def _finding(line: Line, most: int, paint: Paint) -> Iterator[str]:
    """A finding whose headline takes at most so many lines, and its remedy in one."""
    ink: Ink = "bad" if line.level == "error" else "doubtful" if line.level == "warning" else "calm"
    start = f"{line.number:>2}. {paint(f'{line.hazard:<8}', ink)}"
    for said in few(line.headline, screen() - _LEFT, most):
        yield f"{start}{said}"
        start = " " * _LEFT
    if line.remedy and line.level != "note":
        yield f"{start}-> {cut(line.remedy, screen() - _LEFT - 3)}"
