"""The remedies that were tried, written into the text of a plan and checked there again.

What a trial promises is looked at once more in the text as written: a remedy stays only if its
finding is gone then, and nothing as grave or graver has come in its place.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import chain
from typing import Final, NamedTuple, TypeAlias

from wattproof.amend.changes import Refused, by_hand, with_changes
from wattproof.amend.reread import is_amended
from wattproof.engine import Result
from wattproof.finding import LEVELS, Changes, Finding, Identity, Trial
from wattproof.packs import RuleSet
from wattproof.plan.amend import following
from wattproof.quantities import Mistake
from wattproof.rechecking import Rechecks
from wattproof.remedies.trials import READ_BEFORE, gravest_of, is_told
from wattproof.settings import NOTHING_SET, Settings
from wattproof.source import PlanUnusable

MAX_ROUNDS: Final = 4
"""How often what is left, or what a remedy brought, is mended in turn."""
MAX_CHECKS: Final = 120
"""Most texts that are checked for one plan."""
_ALTERED: Final = "it would change more than what is meant"


class Mend(NamedTuple):
    """What was written for some findings. clears: those that are gone by it."""

    clears: tuple[Finding, ...]
    changes: Changes


class Mended(NamedTuple):
    """A plan mended.

    text: with all changes in it; before_text: as it was. before, after: what comes of checking it,
    then and now. mends: in the order in which they were written. refused: what the file does not
    let be written.
    """

    before_text: str
    text: str
    before: Result
    after: Result
    mends: tuple[Mend, ...] = ()
    refused: tuple[Refused, ...] = ()


Pick: TypeAlias = Callable[[Result], set[Identity]]
"""Which findings of a plan are to be mended."""


class _Unit(NamedTuple):
    """What belongs together: findings with the changes that clear them, the best first."""

    wanted: tuple[Identity, ...]
    options: tuple[Changes, ...]


def mended(
    path: str,
    text: str,
    rule_set: RuleSet,
    *,
    today: datetime.date,
    shown_as: str,
    settings: Settings = NOTHING_SET,
    pick: Pick | None = None,
) -> Mended:
    """A plan's text with all remedies in it that clear their finding and bring nothing as grave.

    pick: which findings are to be mended; all that nobody accepts where None.
    """
    texts = Rechecks(path, rule_set, today, shown_as, settings)
    return _Mending(texts).of(text, pick or _live)


def _live(result: Result) -> set[Identity]:
    return {i for f in result.findings if f.acceptance is None for i in f.identities}


class _Mending:
    def __init__(self, texts: Rechecks) -> None:
        self.texts = texts
        self.refused: dict[Refused, None] = {}

    def of(self, text: str, pick: Pick) -> Mended:
        given, before = text, self.texts.check(text, remedies=True)
        if before.problems or before.failed:
            return Mended(given, text, before, before)
        chosen = pick(before)
        known = {i for f in before.findings for i in f.identities}
        result, mends = before, list[Mend]()
        for _ in range(MAX_ROUNDS):
            new = {i for f in result.findings for i in f.identities} - known
            units = list(_units(result, chosen | new))
            written, done = self._round(text, result, units)
            if not done:
                break
            text = written
            mends += done
            result = self.texts.check(text, remedies=True)
        return Mended(given, text, before, result, tuple(mends), tuple(self.refused))

    def _round(self, text: str, result: Result, units: list[_Unit]) -> tuple[str, list[Mend]]:
        """All of some units that can be written, together where that does, else one by one."""
        together: Changes = ()
        for unit in units:
            together = tuple(following(together, unit.options[0]))
        if len(units) > 1:
            written = self._written(text, together)
            if written is not None:
                after = self.texts.check(written)
                wanted = tuple(chain.from_iterable(unit.wanted for unit in units))
                if _is_better(result, after, wanted):
                    return written, [Mend(_cleared(result, u.wanted), u.options[0]) for u in units]
        return self._one_by_one(text, result, units)

    def _one_by_one(self, text: str, result: Result, units: list[_Unit]) -> tuple[str, list[Mend]]:
        done: list[Mend] = []
        for unit in units:
            if not _still(result, unit.wanted):
                continue
            for changes in unit.options:
                if self.texts.count >= MAX_CHECKS:
                    return text, done
                written = self._written(text, changes, note=changes is unit.options[0])
                if written is None:
                    continue
                after = self.texts.check(written)
                if _is_better(result, after, unit.wanted):
                    done.append(Mend(_cleared(result, unit.wanted), changes))
                    text, result = written, after
                    break
        return text, done

    def _written(self, text: str, changes: Changes, *, note: bool = False) -> str | None:
        """The text with some changes; None where it does not take all of them.

        note: whether to tell what could not be written.
        """
        made = with_changes(text, changes, self.texts.shown_as)
        if made.refused:
            if note:
                self.refused.update(dict.fromkeys(made.refused))
            return None
        if self._is_as_meant(text, changes, made.text):
            return made.text
        if note:
            refused = (Refused(change, _ALTERED, by_hand(change)) for change in changes)
            self.refused.update(dict.fromkeys(refused))
        return None

    def _is_as_meant(self, text: str, changes: Changes, new: str) -> bool:
        try:
            return is_amended(self.texts.plan(text), changes, self.texts.plan(new))
        except (PlanUnusable, Mistake, ValueError, KeyError):
            return False


def _units(result: Result, wanted: set[Identity]) -> Iterator[_Unit]:
    """What may be written for the findings that are wanted: stories first, then one by one."""
    open_ones = [f for f in result.findings if f.acceptance is None]
    told: set[Identity] = set()
    for story in result.stories:
        of_story = [result.findings[n] for n in story.clears]
        ids = tuple(i for f in of_story for i in f.identities)
        if story.changes and set(ids) <= wanted and not set(ids) <= told:
            yield _Unit(ids, (story.changes, *_options_of(of_story[:1])))
            told |= set(ids)
    for finding in open_ones:
        ids = tuple(i for i in finding.identities if i in wanted and i not in told)
        if not ids:
            continue
        whole = tuple(_options(finding, set(finding.identities)))
        if whole and ids == finding.identities:
            yield _Unit(ids, whole)
            told |= set(ids)
            continue
        for each in finding.each:
            options = tuple(_options(each, {each.identity}))
            if options and each.identity in ids:
                yield _Unit((each.identity,), options)
                told.add(each.identity)


def _options_of(findings: Iterable[Finding]) -> Iterator[Changes]:
    for finding in findings:
        yield from _options(finding, set(finding.identities))


def _options(finding: Finding, ids: set[Identity]) -> Iterator[Changes]:
    """The ways of its remedy that clear it, in their order; last those that bring as much as it.

    What is less grave than the finding is mended with it where that has a remedy, and may stay.
    """
    clearing = [trial for trial in finding.trials if ids <= set(trial.clears)]
    level = LEVELS.index(finding.level)
    for trial in sorted(clearing, key=lambda each: _gravest_brought(each) <= level):
        if trial.brings:
            yield from _with_more(trial)
        yield trial.changes


def _gravest_brought(trial: Trial) -> int:
    """The place in LEVELS of the gravest that a trial brings; beyond them where that is nothing."""
    return min((LEVELS.index(each.level) for each in trial.brings), default=len(LEVELS))


def _with_more(trial: Trial) -> Iterator[Changes]:
    """Changes together with the remedy of each finding that they bring."""
    if all(brought.ways for brought in trial.brings):
        more = chain.from_iterable(brought.ways[0] for brought in trial.brings)
        yield tuple(following(trial.changes, more))


def _still(result: Result, wanted: Iterable[Identity]) -> bool:
    found = {i for f in result.findings for i in f.identities}
    return any(identity in found for identity in wanted)


def _is_better(before: Result, after: Result, wanted: Sequence[Identity]) -> bool:
    """Whether what was wanted is gone, and nothing graver, or as much as grave, has come."""
    if after.problems or after.failed:
        return False
    old, new = gravest_of(_open(before)), gravest_of(_open(after))
    if any(i in old and is_told(i, old[i], new) for i in wanted):
        return False
    gravest = min((old[i] for i in wanted if i in old), default=len(LEVELS))
    parts = {f.rule: f.part for f in _open(after)}
    brought = [
        level
        for identity, level in new.items()
        if parts[identity[0]] != READ_BEFORE and not is_told(identity, level, old)
    ]
    kept = [f for f in _open(after) if f.part != READ_BEFORE or _is_old(f, old)]
    fewer = _counts(kept) < _counts(_open(before))
    return fewer and all(level >= gravest for level in brought)


def _is_old(finding: Finding, old: dict[Identity, int]) -> bool:
    """Whether it was found before: what was read before a change tells nothing new of it."""
    return is_told(finding.identity, LEVELS.index(finding.level), old)


def _open(result: Result) -> list[Finding]:
    return [f for f in result.each if f.acceptance is None]


def _counts(findings: Iterable[Finding]) -> tuple[int, ...]:
    """How many findings there are of each level, the gravest first."""
    levels = [f.level for f in findings]
    return tuple(levels.count(level) for level in LEVELS)


def _cleared(result: Result, wanted: Iterable[Identity]) -> tuple[Finding, ...]:
    ids = set(wanted)
    return tuple(f for f in result.findings if ids & set(f.identities))
