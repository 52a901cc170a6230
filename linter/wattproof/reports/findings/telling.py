"""In what order findings are told, under which number, and what is said of their remedies.

Findings about one component follow the gravest of them, so that they read as one story. Every
report for people uses the same order and the same numbers.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from wattproof.engine import Result
from wattproof.finding import Change, Changes, Finding, Identity, Trial
from wattproof.reports.findings.verdict import live
from wattproof.words import enumerated

_MOST_NAMED = 3
"""Most new findings of a trial that are told in full."""


class Numbers:
    """The number under which each finding of a plan is told."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        self._of: dict[int, int] = {}
        self._by_identity: dict[Identity, list[int]] = {}
        for number, finding in enumerate(findings, start=1):
            self._of[id(finding)] = number
            for identity in finding.identities:
                self._by_identity.setdefault(identity, []).append(number)

    def __getitem__(self, finding: Finding) -> int:
        return self._of[id(finding)]

    def known_by(self, identities: Iterable[Identity]) -> list[int]:
        """The numbers of all findings of some rules and components, sorted."""
        return sorted({n for identity in identities for n in self._by_identity.get(identity, [])})


class Told(NamedTuple):
    """Findings that are told together: one alone, or those about one component.

    changes: what clears two or more of them; empty where nothing was found that does. clears: those
    that it clears. story: all that are about that component, also those that are less grave and
    told at their own place.
    """

    findings: tuple[Finding, ...]
    changes: Changes = ()
    clears: tuple[Finding, ...] = ()
    story: tuple[Finding, ...] = ()

    @property
    def lead(self) -> Finding:
        """The gravest."""
        return self.findings[0]


def told_in_order(result: Result) -> list[Told]:
    """The findings that nobody accepts, the gravest first.

    Those about one component that are as grave as the gravest of them follow it.
    """
    led: dict[int, Told] = {}
    followers: set[int] = set()
    for story in result.stories:
        members = tuple(result.findings[n] for n in story.findings)
        clears = tuple(result.findings[n] for n in story.clears)
        beside = tuple(f for f in members if _gravity(f) == _gravity(members[0]))
        led[id(members[0])] = Told(beside, story.changes, clears, members)
        followers.update(id(f) for f in beside[1:])
    return [
        led.get(id(finding), Told((finding,)))
        for finding in live(result.findings)
        if id(finding) not in followers
    ]


def _gravity(finding: Finding) -> tuple[object, ...]:
    """Level, verdict and kind of hazard: what is as grave as what."""
    return finding.order[:4]


def as_told(result: Result) -> list[Finding]:
    """All findings of a plan in the order of their numbers, those that the owner accepts last."""
    in_order = [finding for told in told_in_order(result) for finding in told.findings]
    return [*in_order, *(f for f in result.findings if f.acceptance is not None)]


def numbered_findings(result: Result) -> Numbers:
    """The numbers of a plan's findings."""
    return Numbers(as_told(result))


def together_words(told: Told, numbers: Numbers) -> str:
    """What clears the findings of a story; empty for a finding alone."""
    about = told.story or told.findings
    if len(about) == 1:
        return ""
    listed = enumerated(str(n) for n in sorted(numbers[f] for f in about))
    told_of = f"{listed} are about `{told.lead.subjects[0]}`"
    if not told.changes:
        return f"{told_of}: look at them together"
    cleared = "them all"
    if len(told.clears) < len(about):
        cleared = enumerated(str(n) for n in sorted(numbers[f] for f in told.clears))
    return f"{told_of}. Tried: {said(told.changes)} clears {cleared} and brings nothing new"


def all_at_once(result: Result, numbers: Numbers) -> str:
    """What comes of following the remedies of all findings at once; empty where not known."""
    made = result.together
    if made is None:
        return ""
    followed = _numbered(made.followed, result, numbers)
    left = [n for n in made.left if n in made.followed]
    cleared = "clear them all" if not left else f"leave {_numbered(left, result, numbers)}"
    words = f"the remedies of {followed}, followed at once, {cleared}"
    for kept, given_up in made.apart:
        one, other = (_numbered([n], result, numbers) for n in (kept, given_up))
        words += f"; {one} and {other} would write two things in one place, and {one} was followed"
    if not made.brings:
        return f"{words} and bring nothing new" if not made.apart else f"{words}; nothing new comes"
    brought = [f"{b.message} ({b.rule})" for b in made.brings[:_MOST_NAMED]]
    more = len(made.brings) - len(brought)
    rest = f"; and {more} more" if more else ""
    return f"{words}, but then: {'; '.join(brought)}{rest}"


def _numbered(places: Iterable[int], result: Result, numbers: Numbers) -> str:
    """Findings by the numbers that they are told under."""
    return enumerated(str(n) for n in sorted(numbers[result.findings[at]] for at in places))


def trial_words(finding: Finding, numbers: Numbers) -> Iterator[str]:
    """What came of trying each way of a remedy in the plan."""
    for trial in finding.trials:
        yield f"{said(trial.changes)}: {_outcome(trial, finding, numbers)}"


def _outcome(trial: Trial, finding: Finding, numbers: Numbers) -> str:
    own = numbers[finding]
    if not set(finding.identities) <= set(trial.clears):
        cleared = "written into the plan, it does not clear this alone"
    else:
        others = [n for n in numbers.known_by(trial.clears) if n != own]
        also = f", and with it {enumerated(str(n) for n in others)}" if others else ""
        cleared = f"written into the plan, it clears this{also}"
    if not trial.brings:
        return f"{cleared}; it brings nothing new"
    brought = [f"{b.message} ({b.rule})" for b in trial.brings[:_MOST_NAMED]]
    more = len(trial.brings) - len(brought)
    rest = f"; and {more} more" if more else ""
    return f"{cleared}, but then: {'; '.join(brought)}{rest}"


def said(changes: Changes) -> str:
    """Changes of a plan in words: what is written for one part, together."""
    written: dict[str, list[str]] = {}
    others = []
    for change in changes:
        if isinstance(change, Change) and change.written:
            written.setdefault(change.of, []).append(change.written)
        else:
            others.append(str(change))
    return enumerated(
        [*(f"`{', '.join(texts)}` for {of}" for of, texts in written.items()), *others]
    )
