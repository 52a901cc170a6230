"""What a rule observes, and the finding that is made of it."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple, Protocol, TypeAlias

from wattproof.plan.amend import Addition as Addition  # what reports show of a remedy
from wattproof.plan.amend import Amendment as Amendment
from wattproof.plan.amend import Change as Change
from wattproof.source import Place
from wattproof.working import Assumption, Value

Level: TypeAlias = Literal["error", "warning", "note"]
Hazard: TypeAlias = Literal["fire", "shock", "damage", "lost-energy", "legal"]
Certainty: TypeAlias = Literal["computed", "assumed", "undecided"]
Signal: TypeAlias = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]

LEVELS: Final[tuple[Level, ...]] = ("error", "warning", "note")
HAZARDS: Final[tuple[Hazard, ...]] = ("fire", "shock", "damage", "lost-energy", "legal")


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
    level: another level than the rule's own. undecided: an input is missing or impossible, so that
    nothing can be said. whatever: it fails whatever the assumed inputs really are.
    """

    message: str
    on: tuple[Located, ...]
    values: tuple[Value, ...] = ()
    margin: float | None = None
    remedy: Remedy | str = ""
    level: Level | None = None
    undecided: bool = False
    whatever: bool = False
    related: tuple[Related, ...] = ()


class Acceptance(NamedTuple):
    """Why a finding is accepted, and until when (ISO date, empty for no end)."""

    reason: str
    by: str
    until: str
    place: Place


Identity: TypeAlias = tuple[str, tuple[str, ...]]
"""By which a finding is known from one check to the next: its rule and its components."""


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
    """A small proof that something in a plan is wrong, or cannot be decided.

    when: what has to be taken away for it, in words; empty where it holds as the plan stands.
    basis: clauses of the plan's body of rules, or common practice. local: whom to ask.
    ways, trials: what the plan would hold by the remedy, and what came of trying each.
    values: the numbers whose workings are shown. assumptions: those that the numbers rest on.
    acceptance: set where the owner accepts it; it stays visible and counted.
    """

    rule: str
    level: Level
    hazard: Hazard
    part: str
    certainty: Certainty
    message: str
    place: Place
    subjects: tuple[str, ...]
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

    @property
    def identity(self) -> Identity:
        """By which it is known from one check to the next."""
        return self.rule, self.subjects

    @property
    def order(self) -> tuple[object, ...]:
        """Errors first, fire before loss, then by place."""
        return (
            LEVELS.index(self.level),
            HAZARDS.index(self.hazard),
            self.place,
            self.rule,
            self.subjects,
        )
