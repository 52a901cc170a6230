"""The kinds of rows that the tables of assumptions are made of."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Generic, NamedTuple, TypeAlias, TypeVar

from wattproof.study.assumptions.reading import Figure
from wattproof.working import LookUp

T_co = TypeVar("T_co", covariant=True)

PRACTICE = "common practice"
ESTIMATE = "an estimate"


class Assumed(NamedTuple, Generic[T_co]):
    """What is taken.

    value: a number, one for each kind of a thing, or a name out of the plan language.
    unit: as it is shown; numbers with `%` in it are held as plain shares.
    words: what it is.
    settles: model and key of the plan language that it stands in for; empty where there is none.
    source: from memory in every case, unless it says otherwise.
    """

    value: T_co
    unit: str
    words: str
    settles: str = ""
    source: str = PRACTICE


Figures: TypeAlias = Assumed[float] | Assumed[Mapping[str, float]]


class Times(NamedTuple):
    """A figure told by the usual one: so many times that, for each kind where they differ."""

    factor: float | Mapping[str, float]
    source: str = PRACTICE


class Silence(NamedTuple):
    """What a report says where something is left out, and which figures stand in for it.

    key: what is unknown, in a word or two. says: the sentence. instead: the key to write.
    symbol, words, unit: of the number; left out where the assumption carries none.
    usual: the figure that is taken, where it does not have to be worked out first.
    kind, harsh: the best and the worst that are still plausible; None where one figure serves.
    Where the same unknown is harsh both ways, the study asks with a direction, and `harsh` is the
    larger of the two ends, or the smaller, by which the study asks for.
    look_up: how it is asked for where it can be looked up; None for weather, efficiency and use,
    which are settings.
    guess: True where the usual figure says little of the thing itself: what fails by it and passes
    with what is kind is a question, and no finding.

    All texts but the key and the unit are templates. They know {subject} and {kind}, the number
    as {number}, {percent}, {milli}, {hours} (of seconds) and {per_hour} (of something per second),
    and whatever else the one who asks tells.
    """

    key: str
    says: str
    instead: str
    symbol: str = ""
    words: str = ""
    unit: str = ""
    usual: Figures | None = None
    kind: Figures | Times | None = None
    harsh: Figures | Times | None = None
    look_up: LookUp | None = None
    guess: bool = False

    def number(self, kind: str) -> float:
        """The usual figure, of a kind of thing where it differs by kind. Raises LookupError."""
        if self.usual is None:
            raise LookupError(f"no figure is usual for `{self.key}`: it has to be worked out")
        return _of(self.usual, kind)

    def figure(self, which: Figure, kind: str, worked_out: float | None = None) -> float:
        """A figure of a kind of thing; worked_out: the usual one. Raises LookupError."""
        usual = worked_out if worked_out is not None else self.number(kind)
        other = {"usual": None, "kind": self.kind, "harsh": self.harsh}[which]
        if other is None:
            return usual
        if isinstance(other, Times):
            factor = other.factor
            return usual * (factor[kind] if isinstance(factor, Mapping) else factor)
        return _of(other, kind)

    def either(self, which: Figure, worse: str, kind: str, worked_out: float | None) -> float:
        """The same where one end is harsh for one question and kind for another.

        worse: "high" or "low", the end that is harsh for what asks.
        """
        if which == "usual":
            return self.figure(which, kind, worked_out)
        ends = sorted(self.figure(f, kind, worked_out) for f in ("usual", "kind", "harsh"))
        return ends[-1] if (which == "harsh") == (worse == "high") else ends[0]


def _of(figures: Figures, kind: str) -> float:
    value = figures.value
    return value[kind] if isinstance(value, Mapping) else value
