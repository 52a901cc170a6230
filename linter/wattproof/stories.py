"""Findings about one component told as one story, with one remedy for all where there is one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, islice, product
from typing import Final, NamedTuple

from wattproof.finding import Amendment, Changes, Finding, Identity
from wattproof.plan.amend import following
from wattproof.remedies.trials import Trials

MAX_COMBINED: Final = 16
"""Most combinations of the remedies of one story that are tried."""


class Story(NamedTuple):
    """Two or more findings about one component.

    findings: their numbers in the list that it was made of, the gravest first.
    changes: what clears two or more of them and brings nothing, tried; empty where nothing does.
    clears: the numbers of those that it clears.
    """

    component: str
    findings: tuple[int, ...]
    changes: Changes = ()
    clears: tuple[int, ...] = ()


def stories(findings: Sequence[Finding], trials: Trials) -> tuple[Story, ...]:
    """The stories of a list of findings, those that somebody accepts left out."""
    about: dict[str, list[int]] = {}
    for number, finding in enumerate(findings):
        if finding.acceptance is None and finding.part != "plan":
            about.setdefault(finding.subjects[0], []).append(number)
    return tuple(
        _story(component, {n: findings[n] for n in numbers}, trials)
        for component, numbers in about.items()
        if len(numbers) > 1
    )


def _story(component: str, told: dict[int, Finding], trials: Trials) -> Story:
    """With the first changes tried that clear all of it, else those that clear most errors."""
    best = Story(component, tuple(told))
    for changes in _candidates(list(told.values()), trials):
        trial = trials.of(changes)
        if trial is None or trial.brings:
            continue
        cleared = set(trial.clears)
        clears = tuple(n for n, finding in told.items() if set(finding.identities) <= cleared)
        if len(clears) > 1 and _worth(clears, told) > _worth(best.clears, told):
            best = Story(component, tuple(told), changes, clears)
        if len(clears) == len(told):
            break
    return best


def _worth(clears: Iterable[int], told: dict[int, Finding]) -> tuple[int, int]:
    """How many errors are cleared, and how many findings."""
    levels = [told[number].level for number in clears]
    return levels.count("error"), len(levels)


def _candidates(told: list[Finding], trials: Trials) -> Iterator[Changes]:
    """Remedies one after another, each way alone, one way of each, and what these ask for."""
    ways = [finding.ways for finding in told if finding.ways]
    alone = dict.fromkeys(chain.from_iterable(ways))
    together = (_joined(chain.from_iterable(choice)) for choice in product(*ways))
    wanted = {identity for finding in told for identity in finding.identities}
    for changes in _in_turn(told, trials):
        yield changes
        yield from _followed(changes, wanted, trials)
    for changes in dict.fromkeys((*alone, *filter(None, islice(together, MAX_COMBINED)))):
        yield changes
        yield from _followed(changes, wanted, trials)


def _in_turn(told: list[Finding], trials: Trials) -> Iterator[Changes]:
    """The first way for the gravest, and then for each that is not yet cleared."""
    changes: Changes = ()
    for finding in told:
        trial = trials.of(changes)
        cleared = set(trial.clears) if trial is not None else set()
        if finding.ways and not set(finding.identities) <= cleared:
            changes = _ordered(following(changes, finding.ways[0]))
    if changes:
        yield changes


def _followed(changes: Changes, wanted: set[Identity], trials: Trials) -> Iterator[Changes]:
    """Changes that clear several, with the first way of the remedy of each finding they bring."""
    trial = trials.of(changes)
    if trial is None or len(wanted & set(trial.clears)) < 2:
        return
    if trial.brings and all(brought.ways for brought in trial.brings):
        more = chain.from_iterable(brought.ways[0] for brought in trial.brings)
        yield _ordered(following(changes, more))


def _joined(changes: Iterable[Amendment]) -> Changes:
    """Changes made all at once; empty where one thing would be changed in two ways."""
    each = _ordered(dict.fromkeys(changes))
    return each if len({change.target for change in each}) == len(each) else ()


def _ordered(changes: Iterable[Amendment]) -> Changes:
    return tuple(sorted(changes, key=str))
