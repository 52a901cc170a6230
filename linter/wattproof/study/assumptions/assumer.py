"""Makes assumptions, and the numbers that rest on them, from the rows of the tables."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Literal, TypeAlias

from wattproof.kept import kept, note_figure
from wattproof.plan.root import Plan
from wattproof.plan.told_units import ToldUnits, units_of
from wattproof.source import Place
from wattproof.study.assumptions.climate import (
    ARRAY_AMBIENT,
    ENGINE_AMBIENT,
    ENGINE_AMBIENT_ELSEWHERE,
    INSIDE_AMBIENT,
    NO_AMBIENT,
    NO_COLDEST,
    NO_HOTTEST,
)
from wattproof.study.assumptions.reading import USUAL, Figure, Label, Reading
from wattproof.study.assumptions.rows import Silence
from wattproof.working import Assumption, Value, assumed, note_read

_MINUS = re.compile(r"(?<![\w.])-(?=\d)")

Worse: TypeAlias = Literal["high", "low"]
Worded: TypeAlias = "dict[tuple[object, ...], tuple[str, str, Assumption]]"
"""Symbol, words and assumption of what was taken, by the row, what it is about, and the figure."""


class Assumer:
    """Makes assumed values for one plan, in one reading of what it does not tell."""

    def __init__(self, plan: Plan, reading: Reading = USUAL, worded: Worded | None = None) -> None:
        """worded: what other readings of the plan have worded, which this one adds to."""
        self.plan = plan
        self.reading = reading
        self.worded: Worded = {} if worded is None else worded
        self.unknowns: dict[Label, Assumption] = {}
        """What was read that the plan does not tell and that could be kinder or harsher."""
        self.flags: set[Label] = set()
        """Those of them that are so or not, which no number carries."""
        self.two_ended: set[Label] = set()
        """Those of them that are harsh at either end."""

    def value(
        self,
        silence: Silence,
        subject: str,
        place: Place,
        *,
        kind: str = "",
        number: float | None = None,
        worse: Worse | None = None,
        **told: str,
    ) -> Value:
        """The number that is taken where the plan is silent.

        subject: the component, or the site. place: where the plan would say it.
        kind: of the thing, where figures differ by it. number: the usual one in SI, where it was
        worked out. worse: which end is harsh for what is asked, where the same unknown is harsh
        both ways. told: what else the sentences of the row name.
        """
        which = self.figure_of(Label(silence.key, subject))
        if worse is None:
            number = silence.figure(which, kind, number)
        else:
            number = silence.either(which, worse, kind, number)
        key = (id(silence), subject, place, kind, number, *told.values())
        if key not in self.worded:
            symbol, words, reason = _worded(silence, subject, place, kind, number, told)
            self.worded[key] = symbol, words, self._in_its_units(reason)
        symbol, words, reason = self.worded[key]
        if silence.kind is not None or silence.harsh is not None:
            self.unknowns.setdefault(Label(silence.key, subject), reason)
        return assumed(number, silence.unit, symbol, words, reason)

    def noted(self, silence: Silence, subject: str, place: Place, **told: object) -> Assumption:
        """An assumption that carries no number of its own."""
        key = (id(silence), subject, place, *told.values())
        if key not in self.worded:
            reason = _assumption(silence, subject, place, {"subject": subject, **told})
            self.worded[key] = ("", "", self._in_its_units(reason))
        return self.worded[key][2]

    def figure_of(self, label: Label) -> Figure:
        """The figure that an unknown has in this reading."""
        note_figure(label)
        return self.reading.figure_of(label)

    @contextmanager
    def reading_as(self, reading: Reading) -> Iterator[None]:
        """Have it make what it makes meanwhile in another reading, and note unknowns anew."""
        before = self.reading, self.unknowns
        self.reading = reading
        self.unknowns = {n: a for n, a in self.unknowns.items() if n in self.two_ended}
        try:
            yield
        finally:
            self.reading, self.unknowns = before

    @kept
    def told_in(self) -> ToldUnits:
        """The units in which the plan tells its own values."""
        return units_of(self.plan)

    def _in_its_units(self, reason: Assumption) -> Assumption:
        return reason._replace(says=self.told_in.said(reason.says))

    def either_end(self, label: Label, assumption: Assumption) -> None:
        """Something in the plan itself that nobody told, and that is harsh at one end or other."""
        self.unknowns.setdefault(label, assumption)
        self.two_ended.add(label)

    def is_so(
        self, silence: Silence, subject: str, place: Place, *, usual: bool, **told: object
    ) -> tuple[bool, Assumption]:
        """Something good that is so or not where the plan is silent: kind is so, harsh is not."""
        label = Label(silence.key, subject)
        reason = self.noted(silence, subject, place, **told)
        self.unknowns.setdefault(label, reason)
        self.flags.add(label)
        note_read(reason)
        return {"usual": usual, "kind": True, "harsh": False}[self.figure_of(label)], reason

    def coldest(self) -> Value:
        """Lowest air temperature with daylight (°C)."""
        setting = self.plan.setting
        return self.value(NO_COLDEST, "site", setting.place, kind=setting)

    def hottest(self) -> Value:
        """Highest air temperature in the shade (°C)."""
        return self.value(NO_HOTTEST, "site", self.plan.setting.place)

    def ambient(self, array_side: bool, engine: bool, subject: str, place: Place) -> Value:
        """Hottest air around a conductor or in a place (°C)."""
        if engine:
            kind, where = "engine", "in an engine space"
            celsius = ENGINE_AMBIENT.value.get(self.plan.setting, ENGINE_AMBIENT_ELSEWHERE.value)
        elif array_side:
            kind, where, celsius = "array", "on the array side", ARRAY_AMBIENT.value
        else:
            kind, where, celsius = "inside", "inside", INSIDE_AMBIENT.value
        return self.value(NO_AMBIENT, subject, place, kind=kind, number=celsius, where=where)


def _worded(
    silence: Silence,
    subject: str,
    place: Place,
    kind: str,
    number: float,
    told: dict[str, str],
) -> tuple[str, str, Assumption]:
    known = {
        "subject": subject,
        "kind": kind,
        "number": number,
        "percent": number * 100.0,
        "milli": number * 1000.0,
        "hours": number / 3600.0,
        "per_hour": number * 3600.0,
        **told,
    }
    reason = _assumption(silence, subject, place, known)
    return silence.symbol.format_map(known), silence.words.format_map(known), reason


def _assumption(
    silence: Silence, subject: str, place: Place, known: dict[str, object]
) -> Assumption:
    says = _MINUS.sub("−", silence.says.format_map(known))
    instead = silence.instead.format_map(known)
    return Assumption(
        silence.key, subject, says, instead, place, silence.look_up, guess=silence.guess
    )
