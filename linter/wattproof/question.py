"""What to look up: labels that a plan does not tell, and what hangs on each.

A question is no finding. It stands where something would fail if one label were as harsh as it can
plausibly be. Labels of one kind are one question, whatever the number of parts that they are on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Final, NamedTuple

from wattproof.finding import HAZARDS, LEVELS, Changes, Finding, Hazard, Level
from wattproof.plan.sized import OF_A_CABLE
from wattproof.source import Place
from wattproof.study.assumptions.reading import Label
from wattproof.words import quoted, quoted_one
from wattproof.working import Assumption, Likelihood, Value

HAZARD_WEIGHT: Final[Mapping[Hazard, float]] = {
    "fire": 8.0,
    "shock": 8.0,
    "injury": 8.0,
    "damage": 4.0,
    "lost-energy": 1.0,
    "legal": 1.0,
}
LEVEL_WEIGHT: Final[Mapping[Level, float]] = {"error": 3.0, "warning": 1.0, "note": 0.3}
LIKELIHOOD_WEIGHT: Final[Mapping[Likelihood, float]] = {
    "often": 1.0,
    "sometimes": 0.5,
    "rarely": 0.2,
}
FURTHER_PLACE: Final = 0.3
"""What each further place adds to the weight of a question."""
PRESENCE: Final = 3.0
"""How much more it weighs whether a device is there at all than what is printed on one."""
NAMES_SHOWN: Final = 2
"""Most components that a question names; the rest are counted."""
PLURALS: Final[Mapping[str, str]] = {
    "is": "are",
    "has": "have",
    "carries": "carry",
    **{f"{verb}s": verb for verb in ("sit", "stand", "stop", "drive", "open", "let", "draw")},
    **{f"{verb}s": verb for verb in ("take", "give", "get", "hold", "need", "lie", "run")},
}
"""Verbs of questions about one thing, as they are of several."""
HAZARD_NOUNS: Final[Mapping[Hazard, str]] = {
    "fire": "fire",
    "shock": "electric shock",
    "injury": "injury",
    "damage": "damage",
    "lost-energy": "lost energy",
    "legal": "what rules ask for",
}


class Decided(NamedTuple):
    """What fails if a label is harsh.

    level: the rule's own. message, values: with the numbers of the harsh figure. ways: of its
    remedy, which nobody has tried.
    """

    rule: str
    hazard: Hazard
    level: Level
    subjects: tuple[str, ...]
    message: str
    place: Place
    margin: float | None
    ways: tuple[Changes, ...] = ()
    values: tuple[Value, ...] = ()

    def as_finding(self) -> Finding:
        """The finding that it would be; its remedy is told by its ways alone."""
        return Finding(
            self.rule,
            self.level,
            self.hazard,
            "",
            "likely",
            self.message,
            self.place,
            self.subjects,
            values=self.values,
            margin=self.margin,
            ways=self.ways,
        )


class Asked(NamedTuple):
    """One label, the assumption that stands for it, and what fails if it is harsh."""

    assumption: Assumption
    decides: tuple[Finding, ...]

    @property
    def label(self) -> Label:
        """By what it is known."""
        return Label.of(self.assumption)


class Question(NamedTuple):
    """One thing to look up.

    asks: in words, such as "what `main-fuse`, `fridge` and six more can break". where: where it is
    printed. instead: the key to write in the plan. labels, places: each component, datasheet or
    place of which it is asked, and where the plan would tell it. decides: what fails if it is
    harsh, the gravest first. hazard, level: of the gravest of these. likelihood: of the harsh
    figure. rank: how much it is worth to look it up first.
    marginal: True where it hangs on weather, on use or on an efficiency: there is nothing to look
    up then, and it is told with its numbers.
    """

    asks: str
    where: str
    instead: str
    labels: tuple[Label, ...]
    places: tuple[Place, ...]
    decides: tuple[Decided, ...]
    hazard: Hazard
    level: Level
    likelihood: Likelihood
    rank: float
    marginal: bool = False

    @property
    def subjects(self) -> tuple[str, ...]:
        """What it asks about, by name."""
        return tuple(label.subject for label in self.labels)

    @property
    def written(self) -> str:
        """What to write: the key, and of what has no datasheet yet in which."""
        if not any(name.startswith(OF_A_CABLE) for name in self.subjects):
            return self.instead
        sheet = "in a sheet of its own under `datasheets: cables:`, which its `cable` names"
        return f"{self.instead}, {sheet}"

    @property
    def line(self) -> str:
        """The question in one line."""
        if self.marginal:
            return self.asks
        count = len(self.decides)
        places = "" if count == 1 else f" in {count} places"
        return f"{self.asks}: decides {HAZARD_NOUNS[self.hazard]}{places}"


def questions(asked: Iterable[Asked]) -> tuple[Question, ...]:
    """Questions on labels, those worth most first, marginal ones last."""
    groups: dict[tuple[str, str], list[Asked]] = {}
    marginal: list[Question] = []
    for each in asked:
        if each.assumption.look_up is None:
            marginal += [_marginal(each, finding) for finding in each.decides]
        else:
            key = (each.assumption.look_up.asks, each.assumption.instead)
            groups.setdefault(key, []).append(each)
    found = [_question(group) for group in groups.values()]
    found.sort(key=lambda q: (-q.rank, q.asks, q.labels, q.instead))
    once = {(q.decides[0].rule, q.decides[0].subjects): q for q in reversed(marginal)}
    last = sorted(once.values(), key=lambda q: (-q.rank, q.asks, q.labels, q.instead))
    return (*found, *last)


def _question(group: list[Asked]) -> Question:
    """One of several labels of one kind, the gravest first."""
    group = sorted(group, key=lambda a: (min(_gravity(f) for f in a.decides), a.label))
    look_up = group[0].assumption.look_up
    assert look_up is not None
    decides = _decided(finding for each in group for finding in each.decides)
    once = {each.label: each for each in group}
    names = [label.subject for label in once]
    asks = _agreeing(look_up.asks, len(names)).format(names=_few(names))
    return Question(
        asks=asks,
        where=look_up.where,
        instead=group[0].assumption.instead,
        labels=tuple(once),
        places=tuple(each.assumption.place for each in once.values()),
        decides=decides,
        hazard=decides[0].hazard,
        level=decides[0].level,
        likelihood=look_up.harsh,
        rank=_rank(decides, look_up.harsh) * (PRESENCE if look_up.presence else 1.0),
    )


def _marginal(each: Asked, finding: Finding) -> Question:
    """What fails if some weather, use or efficiency is worse than usual."""
    decides = _decided((finding,))
    return Question(
        asks=f"marginal: {finding.message}, if {_lowered(each.assumption.says)}",
        where="",
        instead=each.assumption.instead,
        labels=(each.label,),
        places=(each.assumption.place,),
        decides=decides,
        hazard=decides[0].hazard,
        level=decides[0].level,
        likelihood="rarely",
        rank=_rank(decides, "rarely"),
        marginal=True,
    )


def _decided(findings: Iterable[Finding]) -> tuple[Decided, ...]:
    once = {(f.rule, f.subjects[0]): f for f in findings}
    return tuple(
        Decided(
            *(f.rule, f.hazard, f.rule_level, f.subjects, f.message, f.place, f.margin, f.ways),
            values=f.values,
        )
        for f in sorted(once.values(), key=_gravity)
    )


def _gravity(finding: Finding) -> tuple[object, ...]:
    weight = HAZARD_WEIGHT[finding.hazard] * LEVEL_WEIGHT[finding.rule_level]
    return (-weight, LEVELS.index(finding.rule_level), HAZARDS.index(finding.hazard), finding.rank)


def _rank(decides: tuple[Decided, ...], likelihood: Likelihood) -> float:
    """hazard × level × likelihood × (1 + 0.3 for each further place)."""
    gravest = max(HAZARD_WEIGHT[d.hazard] * LEVEL_WEIGHT[d.level] for d in decides)
    return gravest * LIKELIHOOD_WEIGHT[likelihood] * (1.0 + FURTHER_PLACE * (len(decides) - 1))


def _few(names: list[str]) -> str:
    """The first names, and how many more."""
    if len(names) <= NAMES_SHOWN + 1:
        return quoted(names)
    shown = ", ".join(quoted_one(name) for name in names[:NAMES_SHOWN])
    return f"{shown} and {len(names) - NAMES_SHOWN} more"


def _agreeing(asks: str, count: int) -> str:
    """What is asked, its verb in the plural where it is asked of several."""
    if count == 1:
        return asks
    return re.sub(
        r"(?<=\{names\} )(\w+)", lambda found: PLURALS.get(found[1], found[1]), asks, count=1
    )


def _lowered(sentence: str) -> str:
    """A sentence as a part of another."""
    text = sentence.rstrip(".")
    return text if text.startswith("`") else text[:1].lower() + text[1:]
