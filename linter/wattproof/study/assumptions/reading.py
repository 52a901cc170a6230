"""With which figure each unknown is read: what is usual, what is kind, what is harsh.

A study is made in one reading. The usual one says what is found. The kind one has every unknown at
the best that it can plausibly be: what fails there too is certain. A harsh one has one label at the
worst that it can plausibly be and all else as usual: what fails only there is a question.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Literal, NamedTuple, TypeAlias

from wattproof.codes import Bodies
from wattproof.working import Assumption

Figure: TypeAlias = Literal["usual", "kind", "harsh"]


End: TypeAlias = Literal["low", "high", "thick", "thin"]
ENDS: tuple[End, ...] = ("high", "low")
KIND_ENDS: tuple[End, ...] = (*ENDS, "thick", "thin")
"""The ends at which what is kind is tried as well: a thick wire with large devices, a large battery
and all else as small as can be, which loses least and bears most; and a long and thin one, which
drives least into a short, beside an alternator that is large for what it charges."""
HIGH_AT: dict[End, tuple[str, ...]] = {
    "thick": ("conductor size", "capacity", "rating"),
    "thin": ("length", "output current of an alternator"),
}
"""The labels that have their high value there; all others have their low one."""
BETWEEN = 0.5
"""In the middle of its ends, as a share: from 0, the low one, to 1."""


def kind_ends(two_ended: Collection[Label]) -> tuple[End, ...]:
    """At which ends all that is kind is tried, by the labels that are harsh at either end."""
    return KIND_ENDS if two_ended else ENDS[:1]


class Label(NamedTuple):
    """One thing that a plan does not tell.

    key: what is unknown, in a word or two, the same for all plans. subject: of which component,
    datasheet or place, so that alike packs of one datasheet share theirs.
    """

    key: str
    subject: str

    @classmethod
    def of(cls, assumption: Assumption) -> Label:
        """What an assumption stands in for."""
        return cls(assumption.key, assumption.subject)


class Reading(NamedTuple):
    """Which figure each unknown has.

    rest: that of every unknown but those of `harsh`, which have their harsh figure. end: the end at
    which a value stands that is harsh one way for one question and the other way for another, such
    as the length of a wire; both ends are tried, and of what is kind two more. chosen: what is not
    chosen yet, or a guess, as kind as it can be. high: what stands at its high end whatever the end
    of all else. between: what stands between its ends, from 0, the low one, to 1. codes: the bodies
    of rules of a plan that names none; None for the usual ones.
    """

    rest: Figure = "usual"
    harsh: frozenset[Label] = frozenset()
    end: End = "high"
    chosen: frozenset[Label] = frozenset()
    high: frozenset[Label] = frozenset()
    between: tuple[tuple[Label, float], ...] = ()
    codes: Bodies | None = None

    @property
    def unusual(self) -> frozenset[Label] | None:
        """The labels that are not as usual; None where all are not, or other tables are read."""
        few = self.rest == "usual" and self.codes is None
        return self.harsh | self.chosen if few else None

    def end_of(self, label: Label, usual: float, ends: tuple[float, float]) -> float:
        """The value of what is harsh at either end, in this reading."""
        if self.figure_of(label) == "usual":
            return usual
        share = dict(self.between).get(label)
        return ends[self._is_high(label)] if share is None else _between(ends, share)

    def word_of(self, label: Label, usual: str, ends: tuple[str, str]) -> str:
        """The word that stands for one which nobody told, in this reading."""
        return usual if self.figure_of(label) == "usual" else ends[self._is_high(label)]

    def _is_high(self, label: Label) -> bool:
        if self.end == "high" or label in self.high:
            return True
        return label.key in HIGH_AT.get(self.end, ())

    def figure_of(self, label: Label) -> Figure:
        """The figure that an unknown has in this reading."""
        if label in self.chosen:
            return "kind"
        return "harsh" if label in self.harsh else self.rest


def _between(ends: tuple[float, float], share: float) -> float:
    """A value between two, of positive ones by their ratio."""
    low, high = ends
    return low * (high / low) ** share if low > 0.0 else low + (high - low) * share


USUAL = Reading()


def kind(end: End) -> Reading:
    """All as kind as can be."""
    return Reading("kind", end=end)


def in_codes(codes: Bodies) -> Reading:
    """All as usual, but by other bodies of rules."""
    return Reading(codes=codes)


def all_harsh(end: End) -> Reading:
    """All as harsh as can be."""
    return Reading("harsh", end=end)


def chosen_kindly(labels: frozenset[Label], end: End) -> Reading:
    """All as usual, but what is not chosen yet, or a guess, as kind as can be."""
    return Reading(end=end, chosen=labels)


def chosen_with_high(labels: frozenset[Label], high: Collection[Label]) -> Reading:
    """All as usual, but some as kind as can be: of those that have two ends, these at the high."""
    return Reading(end="low", chosen=labels, high=frozenset(high))


def chosen_between(labels: frozenset[Label], between: Mapping[Label, float]) -> Reading:
    """All as usual, but some as kind as can be: of those that have two ends, these between them."""
    return Reading(end="low", chosen=labels, between=tuple(sorted(between.items())))


def harsh_at(label: Label, end: End) -> Reading:
    """All as usual but one."""
    return Reading(harsh=frozenset((label,)), end=end)
