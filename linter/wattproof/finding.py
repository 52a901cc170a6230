"""What a rule observes, and the finding that is made of it."""

from __future__ import annotations

import math
from typing import Final, Literal, NamedTuple, Protocol, TypeAlias

from wattproof.kinds import HAZARDS as HAZARDS
from wattproof.kinds import LEVELS as LEVELS
from wattproof.kinds import Hazard as Hazard
from wattproof.kinds import Level as Level
from wattproof.plan.amend import Addition as Addition  # what reports show of a remedy
from wattproof.plan.amend import Amendment as Amendment
from wattproof.plan.amend import Change as Change
from wattproof.source import Place
from wattproof.working import Assumption, LookUp, Value

Verdict: TypeAlias = Literal["certain", "likely"]
Signal: TypeAlias = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]

VERDICTS: Final[tuple[Verdict, ...]] = ("certain", "likely")
_GRAVITY: Final[dict[Hazard, int]] = {
    "fire": 0,
    "shock": 0,
    "injury": 0,
    "damage": 1,
    "lost-energy": 2,
    "legal": 3,
}
_MARGIN_DIGITS: Final = 9
"""Digits of a margin by which findings are put in order."""


class Located(Protocol):
    """Anything that a finding can be about: it has a name and a place in the plan."""

    @property
    def name(self) -> str: ...

    @property
    def at(self) -> Place: ...


class Related(NamedTuple):
    """Another place that a finding concerns, with a few words on why."""

    place: Place
    words: str


class Caution(NamedTuple):
    """A signal word of ANSI Z535.6 and what may happen, to whom."""

    signal: Signal
    text: str


Changes: TypeAlias = tuple[Amendment, ...]
"""Values that a plan would hold instead, and devices as well, all at once."""


class Remedy(NamedTuple):
    """What to change, in words; and what the plan would then hold, where that is computed.

    ways: in the order of the words, where these offer one thing "or" another; empty for one that
    values and devices of the plan cannot say. The engine checks the plan again with each, and
    tells what it clears and brings.
    """

    words: str
    ways: tuple[Changes, ...] = ()


class Observation(NamedTuple):
    """What a rule saw.

    message: one line with the numbers. on: the components, the first of which is where the finding
    stands. values: the numbers compared, whose workings are shown. margin: how far inside (+) or
    outside (-) the limit, as a share of it. remedy: what to change, computed.
    level: another level than the rule's own. hazard: another hazard than the rule's own, whose
    caution is not told then. cause: what it comes from, in a few words, where
    another cause of the same rule is another thing to mend; findings of one cause are told as one.
    asks: what has to be looked up before it can be said; it is a question then, and no finding.
    absent: the family of what is missing, such as `fuses`. Where a plan tells a part of them only,
    it is a question whether one is there. deadly: True for what kills at a touch, which is told
    before all else of its level.
    """

    message: str
    on: tuple[Located, ...]
    values: tuple[Value, ...] = ()
    margin: float | None = None
    remedy: Remedy | str = ""
    level: Level | None = None
    hazard: Hazard | None = None
    related: tuple[Related, ...] = ()
    cause: str = ""
    asks: LookUp | None = None
    absent: str = ""
    deadly: bool = False


class Acceptance(NamedTuple):
    """Why a finding is accepted, and until when (ISO date, empty for no end)."""

    reason: str
    by: str
    until: str
    place: Place


Identity: TypeAlias = tuple[str, tuple[str, ...]]
"""By which a finding is known from one check to the next: its rule and its components."""


class Known(NamedTuple):
    """What is kept of a finding to know it again in a later check. margin: as of the finding."""

    rule: str
    subjects: tuple[str, ...]
    level: Level
    margin: float | None
    message: str

    @property
    def identity(self) -> Identity:
        """By which it is known."""
        return self.rule, self.subjects


class Since(NamedTuple):
    """What a check says of an older one. file: where that is kept. gone: what is found no more."""

    file: str
    gone: tuple[Known, ...]


class Brought(NamedTuple):
    """A finding that a change of the plan would bring, with the ways of its own remedy."""

    rule: str
    level: Level
    message: str
    ways: tuple[Changes, ...] = ()


class Trial(NamedTuple):
    """What came of checking the plan again with some changes.

    changes: what was changed. clears: findings that are gone then. brings: those that are new
    then, or graver.
    """

    changes: Changes
    clears: tuple[Identity, ...]
    brings: tuple[Brought, ...]


class Finding(NamedTuple):
    """A small proof that something in a plan is wrong.

    verdict: certain where it fails with every unknown at its kindest too, else likely.
    rule_level: the level that it has where it is certain.
    cause: what it shares with others of its rule. alike: the others of that cause, folded into it,
    the worst first.
    when: what has to be taken away for it, in words; empty where it holds as the plan stands.
    basis: clauses of the plan's body of rules, or common practice. local: whom to ask.
    ways, trials: what the plan would hold by the remedy, and what came of trying each.
    values: the numbers whose workings are shown. assumptions: those that the numbers rest on.
    acceptance: set where the owner accepts it; it stays visible and counted. known: whether an
    older check found it too, and no milder; it does not count for the exit status then.
    deadly: True for what kills at a touch.
    """

    rule: str
    level: Level
    hazard: Hazard
    part: str
    verdict: Verdict
    message: str
    place: Place
    subjects: tuple[str, ...]
    rule_level: Level = "error"
    cause: str = ""
    alike: tuple[Finding, ...] = ()
    related: tuple[Related, ...] = ()
    basis: tuple[str, ...] = ()
    local: str = ""
    explanation: str = ""
    caution: Caution | None = None
    remedy: str = ""
    ways: tuple[Changes, ...] = ()
    trials: tuple[Trial, ...] = ()
    values: tuple[Value, ...] = ()
    margin: float | None = None
    when: str = ""
    assumptions: tuple[Assumption, ...] = ()
    acceptance: Acceptance | None = None
    acceptable: bool = True
    known: bool = False
    deadly: bool = False

    @property
    def identity(self) -> Identity:
        """By which it is known from one check to the next."""
        return self.rule, self.subjects

    @property
    def is_new(self) -> bool:
        """Whether it, or one that is folded into it, is new or worse than in an older check."""
        return any(not single.known for single in (self, *self.alike))

    @property
    def identities(self) -> tuple[Identity, ...]:
        """Its own, and that of each that is folded into it."""
        return (self.identity, *(other.identity for other in self.alike))

    @property
    def all_subjects(self) -> tuple[str, ...]:
        """The components of it and of all that are folded into it, each once."""
        each = (self, *self.alike)
        return tuple(dict.fromkeys(name for finding in each for name in finding.subjects))

    @property
    def each(self) -> tuple[Finding, ...]:
        """It and all that are folded into it, each alone."""
        return (self._replace(alike=()), *self.alike) if self.alike else (self,)

    @property
    def gravity(self) -> tuple[object, ...]:
        """Errors first, fire before loss, certain before likely, then how far past the limit.

        What likely burns stands before what certainly wastes. A shock that does not kill stands
        after what burns and what destroys. Margins that differ in their last digits are the same:
        those hang on the order in which a network is solved.
        """
        harmless = self.hazard == "shock" and not self.deadly
        return (
            LEVELS.index(self.level),
            _GRAVITY["damage" if harmless else self.hazard],
            VERDICTS.index(self.verdict),
            not self.deadly,
            self.hazard == "shock",
            round(self.margin, _MARGIN_DIGITS) if self.margin is not None else -math.inf,
            HAZARDS.index(self.hazard),
        )

    @property
    def order(self) -> tuple[object, ...]:
        """The order of reports: the gravest first, equally grave ones by their lines."""
        return (*self.gravity, self.place, self.rule, *self._words)

    @property
    def rank(self) -> tuple[object, ...]:
        """The gravest first, equally grave ones by their names, wherever they stand in a file."""
        return (*self.gravity, self.rule, *self._words)

    @property
    def _words(self) -> tuple[object, ...]:
        """What tells two findings of one rule apart; no two that differ are equal in it."""
        return self.subjects, self.when, self.message
