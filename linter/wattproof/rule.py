"""What a rule is: a function over the study, with everything that is said about it beside it.

A rule file reads from top to bottom: what it compares, on what basis, what it means to a person,
a sound plan and the one edit that makes it faulty, and the computation. A pack is a package of such
files, named by an entry point in the group `wattproof.rules`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import field, fields
from functools import cached_property
from typing import Any, TypeAlias

from wattproof.codes import Clause
from wattproof.example import Edit, Example
from wattproof.finding import (
    HAZARDS,
    LEVELS,
    Caution,
    Hazard,
    Level,
    Located,
    Observation,
    Related,
    Remedy,
)
from wattproof.kinds import PARTS as PARTS
from wattproof.plan.amend import Addition, Change
from wattproof.record import record
from wattproof.study import Study

__all__ = [
    "COMMON_PRACTICE",
    "Addition",
    "Caution",
    "Change",
    "Clause",
    "Edit",
    "Example",
    "Located",
    "Observation",
    "Related",
    "Remedy",
    "Rule",
    "caution",
    "danger",
    "notice",
    "option",
    "practice",
    "record",
    "rule",
    "warning",
]

GRAVE = ("DANGER", "WARNING")
"""Signal words of what kills or injures badly (ANSI Z535.6)."""

COMMON_PRACTICE = "common practice"
"""Key of the basis that holds where a body of rules says nothing."""

Check: TypeAlias = Callable[..., Iterable[Observation]]


@record
class Rule:
    """A rule with its metadata.

    id: lower-case words with hyphens, thing first, then fault; stable for ever.
    summary: what it compares, in one line.
    basis: for each body of rules its clause; the key "common practice" for what none says.
    local: whom to ask, where it is another than the body of rules' own.
    explanation: for a person who is not an electrician. example: a minimal plan without a finding,
    as its text or as edits of a base plan; faulty: the one edit of it after which exactly this rule
    has a finding. options: a dataclass of limits with defaults.
    acceptable: False where nobody may accept what it finds. It is so for every error that means
    fire or shock, or whatever else kills or injures badly; a pack may say it of others too.
    covers: the hazards that it looks for, in an owner's words; other rules may cover them too.
    settings: what an installation must be in for the rule to be run; empty where it is run in all.
    elsewhere: why it has nothing to look for in the others, as a result says it.
    fine: when what it finds is right all the same, in a sentence or two; empty where it never is.
    since: the version of its pack that brought it.
    likeness: True where it compares what should be alike, so that of what is not told a value
    between its ends may pass where both fail.
    """

    id: str
    summary: str
    level: Level
    hazard: Hazard
    part: str
    basis: Mapping[str, Clause]
    explanation: str
    example: str | Example
    faulty: Edit
    check: Check
    caution: Caution | None = None
    local: str = ""
    options: type[Any] | None = None
    acceptable: bool = True
    former_ids: tuple[str, ...] = ()
    covers: tuple[str, ...] = ()
    settings: tuple[str, ...] = ()
    elsewhere: str = ""
    fine: str = ""
    since: str = ""
    likeness: bool = False
    pack: str = ""

    def __post_init__(self) -> None:
        """Keep from acceptance what endangers people."""
        grave = self.caution is not None and self.caution.signal in GRAVE
        if self.level == "error" and (grave or self.hazard in ("fire", "shock", "injury")):
            object.__setattr__(self, "acceptable", False)

    @cached_property
    def sound(self) -> str:
        """The whole text of the plan without a finding."""
        return self.example if isinstance(self.example, str) else self.example.whole()

    def is_for(self, setting: str) -> bool:
        """True where it has something to look for in an installation of a setting."""
        return not self.settings or setting in self.settings

    def observations(self, study: Study, settings: Mapping[str, float]) -> Iterable[Observation]:
        """Run it. settings: values for its options. Raises ValueError for an unknown option."""
        if self.options is None:
            if settings:
                raise ValueError(f"rule {self.id} has no options")
            return self.check(study)
        if settings:
            known = {f.name for f in fields(self.options)}
            unknown = sorted(set(settings) - known)
            if unknown:
                has = f"it has {sorted(known)}"
                raise ValueError(f"rule {self.id} has no option {unknown[0]}; {has}")
        return self.check(study, self.options(**settings))

    def basis_for(self, code: str) -> tuple[Clause, ...]:
        """The clauses that hold under a body of rules; common practice where it says nothing."""
        if code in self.basis:
            return (self.basis[code],)
        return tuple(c for key, c in self.basis.items() if key == COMMON_PRACTICE)


def rule(*, sound: str | Example, **metadata: Any) -> Callable[[Check], Rule]:
    """Make a rule of the function below it. Takes the fields of Rule by name; checks them.

    sound: its example, whole or as edits of a base plan.
    """

    def make(check: Check) -> Rule:
        made = Rule(check=check, example=sound, **metadata)
        if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", made.id):
            raise ValueError(f"{made.id!r} is not an id of lower-case words with hyphens")
        if made.part not in PARTS:
            raise ValueError(f"{made.part!r} is none of {', '.join(PARTS)}")
        if bool(made.settings) != bool(made.elsewhere):
            raise ValueError(f"{made.id} must say why it is not run in other settings")
        if made.level not in LEVELS:
            raise ValueError(f"{made.level!r} is none of {', '.join(LEVELS)}")
        if made.hazard not in HAZARDS:
            raise ValueError(f"{made.hazard!r} is none of {', '.join(HAZARDS)}")
        return made

    return make


def option(default: float, description: str) -> Any:
    """A limit that a project may set: its default, and what it means, with its unit."""
    return field(default=default, metadata={"description": description})


def danger(text: str) -> Caution:
    """DANGER: will cause death or serious injury if not avoided."""
    return Caution("DANGER", text)


def warning(text: str) -> Caution:
    """WARNING: could cause death or serious injury."""
    return Caution("WARNING", text)


def caution(text: str) -> Caution:
    """CAUTION: could cause minor or moderate injury."""
    return Caution("CAUTION", text)


def notice(text: str) -> Caution:
    """NOTICE: damage or loss, no injury."""
    return Caution("NOTICE", text)


def practice(says: str) -> Clause:
    """A basis that no published text states."""
    return Clause("common practice", "", says, True)
