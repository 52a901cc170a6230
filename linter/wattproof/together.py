"""All remedies of one report followed at once: what stands then, and what they bring together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from wattproof.finding import LEVELS, Amendment, Brought, Changes, Finding, Trial
from wattproof.remedies.trials import Trials
from wattproof.stories import Story


class Together(NamedTuple):
    """What came of following one remedy of every finding at once.

    followed: the numbers of the findings whose remedies could be written, in the list that it was
    made of. left: those of all findings that stand all the same. apart: pairs of numbers whose
    remedies write two things in one place, of which the first was followed. brings: what is new, or
    graver.
    """

    changes: Changes
    followed: tuple[int, ...]
    left: tuple[int, ...]
    apart: tuple[tuple[int, int], ...]
    brings: tuple[Brought, ...]


class _Followed(NamedTuple):
    """Remedies made one, with whose is followed where two would write one thing."""

    changes: Changes
    numbers: tuple[int, ...]
    apart: tuple[tuple[int, int], ...]


def together(findings: Sequence[Finding], told: Iterable[Story], trials: Trials) -> Together | None:
    """The first way of each remedy, tried at once; None where fewer than two can be written.

    Where two would write one thing, either may be right: both are tried, and the better is taken.
    """
    ways = dict(_ways(findings, told))
    if len(ways) < 2:
        return None
    forwards = _joined(ways.items())
    made = [forwards, _joined(reversed(list(ways.items())))] if forwards.apart else [forwards]
    tried = [(each, trial) for each in made if (trial := trials.of(each.changes)) is not None]
    if not tried:
        return None
    best, trial = min(tried, key=lambda pair: _gravity(findings, pair[1]))
    left = tuple(n for n in _open(findings) if not _is_cleared(findings[n], trial))
    return Together(best.changes, best.numbers, left, best.apart, trial.brings)


def _ways(
    findings: Sequence[Finding], told: Iterable[Story]
) -> Iterator[tuple[tuple[int, ...], Changes]]:
    """What is written for the findings, by their numbers: that of a story, else the first way."""
    done: set[int] = set()
    for story in told:
        if story.changes:
            done.update(story.clears)
            yield story.clears, story.changes
    for number in _open(findings):
        if number not in done and findings[number].ways:
            yield (number,), findings[number].ways[0]


def _open(findings: Sequence[Finding]) -> list[int]:
    return [
        n
        for n, f in enumerate(findings)
        if f.acceptance is None and f.part != "plan" and not f.when
    ]


def _joined(ways: Iterable[tuple[tuple[int, ...], Changes]]) -> _Followed:
    """Each thing as the first that writes it has it."""
    held: dict[object, tuple[Amendment, int]] = {}
    numbers: list[int] = []
    apart: dict[tuple[int, int], None] = {}
    for whose, changes in ways:
        for change in changes:
            first, number = held.setdefault(change.target, (change, whose[0]))
            if first != change:
                apart[number, whose[0]] = None
        numbers += whose
    changes = tuple(change for change, _ in held.values())
    return _Followed(changes, tuple(sorted(numbers)), tuple(apart))


def _is_cleared(finding: Finding, trial: Trial) -> bool:
    return set(finding.identities) <= set(trial.clears)


def _gravity(findings: Sequence[Finding], trial: Trial) -> tuple[int, ...]:
    """How many stand or come of each level, the gravest first."""
    levels = [findings[n].level for n in _open(findings) if not _is_cleared(findings[n], trial)]
    levels += [brought.level for brought in trial.brings]
    return tuple(levels.count(level) for level in LEVELS)
