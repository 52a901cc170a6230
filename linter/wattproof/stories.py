"""Findings about one component told as one story, with one remedy for all where there is one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, islice, product
from typing import Final

from wattproof.finding import Changes, Finding
from wattproof.trials import Trials

MAX_COMBINED: Final = 16
"""Most combinations of the remedies of one story that are tried."""


@dataclass(frozen=True)
class Story:
    """Two or more findings about one component.

    findings: their numbers in the list that it was made of, the gravest first.
    changes: what clears them all and brings nothing, tried; empty where nothing does.
    """

    component: str
    findings: tuple[int, ...]
    changes: Changes = ()


def stories(findings: Sequence[Finding], trials: Trials) -> tuple[Story, ...]:
    """The stories of a list of findings, those that somebody accepts left out."""
    about: dict[str, list[int]] = {}
    for number, finding in enumerate(findings):
        if finding.acceptance is None and finding.part != "plan":
            about.setdefault(finding.subjects[0], []).append(number)
    return tuple(
        Story(component, tuple(numbers), _clearing_all([findings[n] for n in numbers], trials))
        for component, numbers in about.items()
        if len(numbers) > 1
    )


def _clearing_all(told: list[Finding], trials: Trials) -> Changes:
    """The first changes tried that clear all of a story; empty where none do."""
    wanted = {finding.identity for finding in told}
    for changes in _candidates(told):
        trial = trials.of(changes)
        if trial is not None and wanted <= set(trial.clears) and not trial.brings:
            return changes
    return ()


def _candidates(told: list[Finding]) -> Iterator[Changes]:
    """Each way of each remedy alone, then one way of each remedy together."""
    ways = [finding.ways for finding in told if finding.ways]
    alone = dict.fromkeys(chain.from_iterable(ways))
    together = (dict.fromkeys(chain.from_iterable(choice)) for choice in product(*ways))
    joined = (tuple(sorted(changes, key=str)) for changes in islice(together, MAX_COMBINED))
    yield from dict.fromkeys((*alone, *(changes for changes in joined if _agree(changes))))


def _agree(changes: Changes) -> bool:
    """True where no key is changed in two ways."""
    return len({change.target for change in changes}) == len(changes)
