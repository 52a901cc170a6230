"""Two checks beside each other: findings that came, went, grew worse or better, figures that moved.

Findings are known from one check to the next by their rule and their components, so that lines may
move and words may change. Where a rule finds several things about the same components, they are
taken in the order of their gravity.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Final, NamedTuple

from wattproof.finding import LEVELS, Finding, Identity, Known, Since
from wattproof.views.figures import Figure, figures_of

if TYPE_CHECKING:
    from wattproof.engine import Checked, Result

SAME_MARGIN: Final = 5e-4
"""Margins this near to each other, as shares of the limit, are one."""
MOVED: Final = 0.01
"""The share by which a figure has to move to be told."""


class Pair(NamedTuple):
    """One finding in two checks."""

    old: Known
    new: Known


class Compared(NamedTuple):
    """What became of findings from one check to the next, each kind in the order of reports."""

    come: tuple[Known, ...]
    gone: tuple[Known, ...]
    worse: tuple[Pair, ...]
    better: tuple[Pair, ...]
    same: tuple[Pair, ...]


class Moved(NamedTuple):
    """A figure in two checks; None where one of them does not have it."""

    old: Figure | None
    new: Figure | None


class Comparison(NamedTuple):
    """Two checks, named, and what lies between them.

    new: with what the old one found too, no milder, marked as known. outcome, moved: empty where
    one of them could not be checked.
    """

    name: str
    old: Result
    new: Result
    outcome: Compared
    moved: tuple[Moved, ...]


def compare_checks(name: str, old: Checked, new: Checked) -> Comparison:
    """Two plans beside each other. name: what the older one is called."""
    before = known_of(old.result)
    moved: list[Moved] = []
    if old.study is not None and new.study is not None:
        moved = moved_figures(figures_of(old.study), figures_of(new.study))
    outcome = compared(before, known_of(new.result))
    marked = with_known(new.result, before, name)
    return Comparison(name, old.result, marked, outcome, tuple(moved))


def known_of(result: Result) -> list[Known]:
    """The findings of a check that nobody accepts, each alone."""
    return [known(single) for single in result.each if single.acceptance is None]


def known(finding: Finding) -> Known:
    """What is kept of a finding."""
    return Known(finding.rule, finding.subjects, finding.level, finding.margin, finding.message)


def compared(old: Iterable[Known], new: Iterable[Known]) -> Compared:
    """What became of the findings of an older check."""
    pairs = list(_pairs(old, new))
    both = [Pair(before, after) for before, after in pairs if before and after]
    worse = tuple(pair for pair in both if is_worse(pair.new, pair.old))
    better = tuple(pair for pair in both if is_worse(pair.old, pair.new))
    moved = {*worse, *better}
    same = tuple(pair for pair in both if pair not in moved)
    come = tuple(after for before, after in pairs if after and not before)
    gone = tuple(before for before, after in pairs if before and not after)
    return Compared(come, gone, worse, better, same)


def is_worse(one: Known, than: Known) -> bool:
    """Whether a finding is graver, or as grave and further past its limit."""
    if one.level != than.level:
        return LEVELS.index(one.level) < LEVELS.index(than.level)
    if one.margin is None or than.margin is None:
        return False
    return one.margin < than.margin - SAME_MARGIN


def moved_figures(old: Iterable[Figure], new: Iterable[Figure]) -> list[Moved]:
    """The figures that moved by more than a hundredth, in the order of the newer ones.

    Those that only one of the two has are among them; those of the older one stand last.
    """
    before = {(f.subject, f.state, f.quantity): f for f in old}
    after = {(f.subject, f.state, f.quantity): f for f in new}
    found = [Moved(before.get(key), figure) for key, figure in after.items()]
    found += [Moved(figure, None) for key, figure in before.items() if key not in after]
    return [moved for moved in found if _did_move(moved)]


def _did_move(moved: Moved) -> bool:
    if moved.old is None or moved.new is None:
        return True
    old, new = moved.old.value.number, moved.new.value.number
    if old == new:
        return False
    return not abs(new - old) <= MOVED * max(abs(old), abs(new))


def _pairs(
    old: Iterable[Known], new: Iterable[Known]
) -> Iterator[tuple[Known | None, Known | None]]:
    """Each finding with what it was: the newer ones in their order, then those that are gone."""
    waiting: dict[Identity, list[Known]] = defaultdict(list)
    for each in old:
        waiting[each.identity].append(each)
    for each in new:
        earlier = waiting[each.identity]
        yield (earlier.pop(0) if earlier else None), each
    for rest in waiting.values():
        for each in rest:
            yield each, None


def with_known(result: Result, old: Sequence[Known], file: str) -> Result:
    """A check in which what an older one found too, no milder, is marked as known.

    old: what the older one found in this plan. file: where that is kept.
    """
    outcome = compared(old, known_of(result))
    left = Counter(pair.new for pair in (*outcome.same, *outcome.better))

    def marked(single: Finding) -> Finding:
        key = known(single)
        if single.acceptance is not None or not left[key]:
            return single
        left[key] -= 1
        return single._replace(known=True)

    findings = tuple(
        marked(finding)._replace(alike=tuple(map(marked, finding.alike)))
        for finding in result.findings
    )
    return replace(result, findings=findings, since=Since(file, outcome.gone))
