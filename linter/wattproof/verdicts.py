"""Certain, likely, or a question: what the readings of one plan say together.

The rules run with every unknown as usual: that is what is found. Run with every unknown at its
kindest, what fails again is certain, and the rest likely: an error becomes a warning. What is
likely by a guess alone, such as the length of a wire that nobody told, is a question, and so is a
current that is past its limit by a hair and by what is usual only. Run with one
label at its harshest, what fails only there is a question on that label. All labels at their
harshest at once is a screen: where nothing new fails, none is tried alone.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from typing import Final, NamedTuple, TypeAlias

from wattproof.codes import Bodies
from wattproof.finding import LEVELS, Finding
from wattproof.question import Asked, Question, questions
from wattproof.study.assumptions.labels import LIKE_EACH_OTHER, NO_DISTANCE
from wattproof.study.assumptions.reading import (
    BETWEEN,
    ENDS,
    End,
    Label,
    Reading,
    all_harsh,
    chosen_between,
    chosen_kindly,
    chosen_with_high,
    harsh_at,
    in_codes,
    kind,
    kind_ends,
)
from wattproof.study.limits import HAIR
from wattproof.working import Assumption

MOST_ENDS: Final = 8
"""Most labels of a finding of which each is tried at either end alone."""
MOST_BETWEEN: Final = 12
"""Most labels of a finding of which each is tried between its ends."""
FINEST: Final = 0.05
"""How near to each other, as a share of what is between its ends, values of a label are tried."""
HARDLY: Final = 0.02
"""How little a margin moves with a label that is moved no further."""
MOST_ALONE: Final = 60
"""Most labels of which each is tried alone; of more, those of one kind are tried together."""
NEAR: Final = 0.15
"""How far past a limit (as a share of it) something is that is told as marginal."""

Known: TypeAlias = tuple[str, str, str]
"""By which a finding is known from one reading to the next: rule, first component and when."""
Fault: TypeAlias = Known | tuple[str, frozenset[str], str]
"""By which it is known as well where another of its components is blamed first: by all of them."""


@dataclass(eq=False, repr=False)
class Run:
    """What one run of rules over one study gives.

    doubtful: what rests on labels that cannot be right, or on what has to be looked up first.
    waiting: what cannot be judged before something is chosen.
    stuck: rules that did not come back in time. unknowns: what the plan does not tell and the study
    read, by label. flags: those of them that no number carries, so that any rule may rest on them.
    two_ended: those that are harsh at either end, and are tried at both. likeness: rules that
    compare what should be alike, so that a value between the ends may pass where both fail.
    other_codes: the bodies of rules that may hold as well where the plan names none, and what is
    told where one lets pass.
    """

    findings: list[Finding] = field(default_factory=list)
    ran: list[str] = field(default_factory=list)
    doubtful: list[Asked] = field(default_factory=list)
    uses: dict[Assumption, list[str]] = field(default_factory=dict)
    stuck: list[str] = field(default_factory=list)
    waiting: list[Finding] = field(default_factory=list)
    unknowns: dict[Label, Assumption] = field(default_factory=dict)
    flags: frozenset[Label] = frozenset()
    two_ended: frozenset[Label] = frozenset()
    likeness: frozenset[str] = frozenset()
    other_codes: Mapping[Bodies, Assumption] = field(default_factory=dict)

    @property
    def ends(self) -> tuple[End, ...]:
        """At which ends readings of it are made."""
        return ENDS if self.two_ended else ENDS[:1]

    @property
    def kind_ends(self) -> tuple[End, ...]:
        """At which ends all that is kind is tried."""
        return kind_ends(self.two_ended)


RunIn: TypeAlias = Callable[[Reading, Set[str] | None], Run]
"""Runs some rules (None for all) over the study in a reading."""
Tried: TypeAlias = Callable[[Reading, str], list[Finding]]
"""What one rule finds in a reading; each is run once."""


class Judged(NamedTuple):
    """Findings with their verdicts, questions, and how many more fail with everything harsh."""

    findings: list[Finding]
    questions: tuple[Question, ...] = ()
    at_worst: int = 0


def judged(usual: Run, run: RunIn, failed: Container[str], *, ask: bool = True) -> Judged:
    """What the readings say together.

    usual: the run of all rules in the usual reading. failed: rules of findings that tell of a
    failure of the program, which are certain and never asked. ask: False where no label is to be
    tried at its harshest, so that only what has to be looked up in any case is a question.
    """
    if not usual.unknowns:
        return Judged(_by_all_bodies(usual.findings, usual, run), questions(usual.doubtful))
    findings, guessed = _parted(usual, run)
    if not ask:
        return Judged(findings, questions([*usual.doubtful, *guessed]))
    told = _levels(usual.findings)
    broken: dict[Known, Finding] = {}

    def unbroken(reading: Reading, rules: Set[str] | None) -> Run:
        """What rules find in a reading, without what tells of a failure, which no label decides."""
        made = run(reading, rules)
        failures = [f for f in made.findings if f.rule in failed]
        broken.update((known_by(f), f) for f in failures if _is_new(f, told))
        return replace(made, findings=[f for f in made.findings if f.rule not in failed])

    screens = [unbroken(all_harsh(end), None) for end in usual.ends]
    found = [f for screen in screens for f in screen.findings]
    fresh = {known_by(f): f for f in found if _is_new(f, told)}
    if usual.two_ended:
        fresh = {known: f for known, f in fresh.items() if f.part != "module"}
    asked = [*usual.doubtful, *guessed, *_asked(fresh, screens, told, unbroken)]
    known = {known_by(f) for each in asked for f in each.decides}
    return Judged([*findings, *broken.values()], questions(asked), len(set(fresh) - known))


def with_verdicts(usual: Run, run: RunIn) -> list[Finding]:
    """The findings of the usual reading, certain where they fail in the kind one too."""
    return _parted(usual, run)[0]


def _parted(usual: Run, run: RunIn) -> tuple[list[Finding], list[Asked]]:
    """Findings with their verdicts, and as questions what hangs on nothing but guesses.

    A note is nothing to mend, so a likely one is a question in any case; and so is a current
    that is past its limit by a hair, by what stands in for a label.
    """
    tried = _tried_once(run)
    findings = _worded_all(usual, run, tried)
    likely = [f for f in findings if f.verdict == "likely"]
    to_look_up = {label: a for label, a in usual.unknowns.items() if a.look_up}
    guesses = {label: a for label, a in to_look_up.items() if a.guess}
    asked = {
        known_by(f): reasons
        for f in likely
        if (f.level == "note" or _by_a_hair(f)) and (reasons := _named(f, to_look_up))
    }
    graver = [f for f in likely if known_by(f) not in asked and f.level != "note"]
    if graver and guesses:
        lucky = [chosen_kindly(frozenset(guesses), end) for end in usual.kind_ends]
        fails = _failing_in_all(lucky, graver, run).keys()
        asked |= {
            known_by(f): reasons
            for f in graver
            if fails.isdisjoint(faults_of(f)) or _passes_by_its_own(f, guesses, usual, tried)
            if (reasons := _guesses_behind(f, usual, guesses))
        }
    return (
        [f for f in findings if known_by(f) not in asked],
        [Asked(a, (f,)) for f in likely for a in asked.get(known_by(f), ())],
    )


def _by_a_hair(finding: Finding) -> bool:
    """True for a current that is hardly past its limit."""
    currents = bool(finding.values) and all(value.unit == "A" for value in finding.values)
    return currents and finding.margin is not None and finding.margin >= -HAIR


def _guesses_behind(
    finding: Finding, usual: Run, guesses: dict[Label, Assumption]
) -> tuple[Assumption, ...]:
    """The guesses that a finding rests on: by its numbers, else by what its rule read.

    One label may be a guess to one rule and not to another, as what a plug stands is.
    """
    own = _named(finding, guesses)
    if own:
        return tuple(a for a in own if a.guess)
    read = {Label.of(a) for a, rules in usual.uses.items() if finding.rule in rules}
    named = [a for label, a in guesses.items() if label in read | usual.flags]
    return tuple(a for a in named if a.subject in finding.subjects) or tuple(named)


def _named(finding: Finding, labels: Container[Label]) -> tuple[Assumption, ...]:
    """Those of some labels that the numbers of a finding rest on."""
    return tuple(a for a in finding.assumptions if Label.of(a) in labels)


def _tried_once(run: RunIn) -> Tried:
    @functools.cache
    def tried(reading: Reading, rule: str) -> list[Finding]:
        return run(reading, {rule}).findings

    return tried


def _worded_all(usual: Run, run: RunIn, tried: Tried) -> list[Finding]:
    if not usual.unknowns or not usual.findings:
        return _by_all_bodies(usual.findings, usual, run)
    kindest = _failing_in_all([kind(end) for end in usual.kind_ends], usual.findings, run)
    worded = [_worded(f, _level_in(kindest, f)) for f in usual.findings]
    worded = [
        _worded(f, None)
        if f.verdict == "certain" and _passes_by_its_own(f, usual.unknowns, usual, tried)
        else f
        for f in worded
    ]
    return _by_all_bodies(worded, usual, run)


def _passes_by_its_own(
    finding: Finding, labels: Container[Label], usual: Run, tried: Tried
) -> bool:
    """True where it passes with those of some labels that it rests on each at its own kind end.

    The ends at which all is kind move many labels together, and of two that a number sets against
    each other both are small there, or both large. Which end is the kinder its margin tells.
    """
    own = frozenset(map(Label.of, _named(finding, labels)))
    two_ended = [label for label in sorted(own & usual.two_ended) if label.key != NO_DISTANCE.key]
    compares = finding.rule in usual.likeness
    if len(two_ended) < (1 if compares else 2) or finding.margin is None or finding.level == "note":
        return False

    def margin(reading: Reading) -> float:
        found = tried(reading, finding.rule)
        same = [f for f in found if not set(faults_of(f)).isdisjoint(faults_of(finding))]
        known = [f.margin for f in same if f.margin is not None]
        return min(known, default=-math.inf if same else math.inf)

    def margin_with(high: Iterable[Label]) -> float:
        return margin(chosen_with_high(own, frozenset(high)))

    def margin_at(between: Mapping[Label, float]) -> float:
        return margin(chosen_between(own, between))

    return _passes_at_ends(two_ended, margin_with) or (
        compares and _passes_between(two_ended, margin_at)
    )


def _passes_at_ends(
    labels: Sequence[Label], margin_with: Callable[[Iterable[Label]], float]
) -> bool:
    """True where something passes with each of some labels at its own kind end."""
    low = margin_with(())
    if low == math.inf:
        return True
    kinder: list[Label] = []
    for group in _tried_apart(labels):
        alone = margin_with(group)
        if alone == math.inf:
            return True
        if alone > low:
            kinder += group
    return bool(kinder) and margin_with(kinder) == math.inf


def _passes_between(
    labels: Sequence[Label], margin_at: Callable[[Mapping[Label, float]], float]
) -> bool:
    """True where something passes with some labels between their ends, one moved after the other.

    Of what should be alike it is the nearer the better, and neither the small nor the large.
    """
    at = dict.fromkeys(labels, BETWEEN)
    best = margin_at(at)
    for moved in _moved_together(labels)[:MOST_BETWEEN]:
        step = BETWEEN
        while best < math.inf and step > FINEST:
            step /= 2.0
            tries = [{**at, **dict.fromkeys(moved, at[moved[0]] + by)} for by in (-step, step)]
            margins = [margin_at(each) for each in tries]
            if step == BETWEEN / 2.0 and all(abs(m - best) < HARDLY for m in margins):
                break
            if max(margins) > best:
                best = max(margins)
                at = tries[margins.index(best)]
    return best == math.inf


def _moved_together(labels: Sequence[Label]) -> list[list[Label]]:
    """Each of some labels, of one module those together that are large or small together."""
    groups: dict[tuple[object, str], list[Label]] = {}
    for label in labels:
        like = next((keys for keys in LIKE_EACH_OTHER if label.key in keys), label.key)
        groups.setdefault((like, label.subject), []).append(label)
    return list(groups.values())


def _tried_apart(labels: Sequence[Label]) -> Iterator[list[Label]]:
    """Each of some labels, or of very many all of one kind, which are mostly kind at one end."""
    if len(labels) <= MOST_ENDS:
        yield from ([label] for label in labels)
        return
    for key in dict.fromkeys(label.key for label in labels):
        yield [label for label in labels if label.key == key]


def _by_all_bodies(findings: list[Finding], usual: Run, run: RunIn) -> list[Finding]:
    """Findings, likely where another body of rules would not make what is certain by the usual one.

    By the others all is as usual: a body is one more thing that is not told.
    """
    sure = [f for f in findings if f.verdict == "certain" and f.level != "note"]
    worded = {id(f): f for f in sure}
    rules = {f.rule for f in sure}
    for codes, lets_pass in usual.other_codes.items() if sure else ():
        found = _levels(run(in_codes(codes), rules).findings)
        for finding in sure:
            if _level_in(found, finding) is None:
                own = worded[id(finding)]
                reasons = (*own.assumptions, lets_pass)
                worded[id(finding)] = _worded(finding, None)._replace(assumptions=reasons)
    return [worded.get(id(f), f) for f in findings]


def _failing_in_all(
    readings: Iterable[Reading], findings: Iterable[Finding], run: RunIn
) -> dict[Fault, int]:
    """What of some findings fails in each of some readings, with the level of the kindest.

    A rule is left out of further readings where all that it found has passed in one.
    """
    failing: dict[Fault, int] = {}
    rules = {finding.rule for finding in findings}
    for number, reading in enumerate(readings):
        levels = _levels(run(reading, rules).findings)
        failing = {
            known: max(level, failing.get(known, level))
            for known, level in levels.items()
            if not number or known in failing
        }
        rules = {f.rule for f in findings if not failing.keys().isdisjoint(faults_of(f))}
        if not rules:
            break
    return failing


def _level_in(levels: Mapping[Fault, int], finding: Finding) -> int | None:
    """The gravest level of a finding among what fails; None where it passes."""
    return min((levels[k] for k in faults_of(finding) if k in levels), default=None)


def _levels(findings: Iterable[Finding]) -> dict[Fault, int]:
    """The gravest level under which each finding is known."""
    levels: dict[Fault, int] = {}
    for finding in findings:
        level = LEVELS.index(finding.level)
        for known in faults_of(finding):
            levels[known] = min(level, levels.get(known, level))
    return levels


def _worded(finding: Finding, kindest: int | None) -> Finding:
    """A finding with its verdict. kindest: its level in the kind reading, None where it passes."""
    level = LEVELS.index(finding.level)
    if kindest is not None and kindest <= level:
        return finding
    lowered = max(level, LEVELS.index("warning"))
    if kindest is not None:  # it fails in any case, less gravely with what is kind
        return finding._replace(level=LEVELS[min(kindest, lowered)])
    return finding._replace(level=LEVELS[lowered], verdict="likely")


def _asked(
    fresh: dict[Known, Finding], screens: list[Run], told: Mapping[Fault, int], run: RunIn
) -> Iterator[Asked]:
    """For each label that a newly failing rule read: what fails with that one harsh."""
    newly = {finding.rule for finding in fresh.values()}
    read: dict[Label, set[str]] = {}
    unknowns: dict[Label, Assumption] = {}
    for screen in screens:
        unknowns.update(screen.unknowns)
        for used, by in screen.uses.items():
            read.setdefault(Label.of(used), set()).update(by)
        for label in screen.flags:
            read.setdefault(label, set()).update(newly)
    for finding in fresh.values():  # a number may carry what no comparison has noted
        for carried in finding.assumptions:
            read.setdefault(Label.of(carried), set()).add(finding.rule)
    two_ended = screens[0].two_ended
    asked = [label for label in sorted(unknowns) if read.get(label, set()) & newly]
    if len(asked) > MOST_ALONE:
        yield from _asked_together(asked, newly, unknowns, told, run, two_ended)
        return
    for label in asked:
        rules = read[label] & newly
        decides: dict[Known, Finding] = {}
        assumption = unknowns[label]
        for end in ENDS if label in two_ended else ENDS[:1]:
            alone = run(harsh_at(label, end), rules)
            assumption = alone.unknowns.get(label, assumption)
            new = [f for f in alone.findings if f.rule in newly and _is_new(f, told)]
            if label in two_ended:  # a value that nobody knows contradicts no other of its label
                new = [f for f in new if f.part != "module"]
            decides |= {known_by(f): f for f in new}
        if assumption.look_up is None:
            decides = {k: f for k, f in decides.items() if (f.margin or -1.0) >= -NEAR}
        if decides:
            yield Asked(assumption, tuple(decides.values()))


def _asked_together(
    asked: list[Label],
    rules: set[str],
    unknowns: dict[Label, Assumption],
    told: Mapping[Fault, int],
    run: RunIn,
    two_ended: Container[Label],
) -> Iterator[Asked]:
    """The same for a plan of very many labels: those of one kind are harsh in one run.

    A run for each would take the square of the time. What fails is asked of the labels that its
    numbers rest on; where none is told so, of the first.
    """
    kinds: dict[str, list[Label]] = {}
    for label in asked:
        kinds.setdefault(label.key, []).append(label)
    for labels in kinds.values():
        decides: dict[Label, dict[Known, Finding]] = {label: {} for label in labels}
        for end in ENDS if any(label in two_ended for label in labels) else ENDS[:1]:
            for finding in run(Reading(harsh=frozenset(labels), end=end), rules).findings:
                doubtful = any(label in two_ended for label in labels)
                if not _is_new(finding, told) or (doubtful and finding.part == "module"):
                    continue
                rests = {Label.of(a) for a in finding.assumptions}
                for label in [each for each in labels if each in rests] or labels[:1]:
                    decides[label][known_by(finding)] = finding
        for label, found in decides.items():
            if unknowns[label].look_up is None:
                found = {k: f for k, f in found.items() if (f.margin or -1.0) >= -NEAR}
            if found:
                yield Asked(unknowns[label], tuple(found.values()))


def _is_new(finding: Finding, told: Mapping[Fault, int]) -> bool:
    """True for what the usual reading does not tell, or as a note only."""
    was = _level_in(told, finding)
    level = LEVELS.index(finding.level)
    return was is None or (LEVELS[was] == "note" and level < was)


def known_by(finding: Finding) -> Known:
    """By which a finding is known from one reading to the next."""
    return finding.rule, finding.subjects[0], finding.when


def faults_of(finding: Finding) -> tuple[Fault, ...]:
    """By which its fault is known, whichever of its components is blamed first."""
    return known_by(finding), (finding.rule, frozenset(finding.subjects), finding.when)
