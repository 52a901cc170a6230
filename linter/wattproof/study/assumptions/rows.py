"""The two kinds of rows that the tables of assumptions are made of."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Generic, NamedTuple, TypeVar

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


class Silence(NamedTuple):
    """What a report says where something is left out.

    key: what is assumed, in a word or two. says: the sentence. instead: the key to write.
    symbol, words, unit: of the number; left out where the assumption carries none.
    usual: the figure that is taken, where it does not have to be worked out first.

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
    usual: Assumed[float] | Assumed[Mapping[str, float]] | None = None

    def number(self, kind: str) -> float:
        """The usual figure, of a kind of thing where it differs by kind. Raises LookupError."""
        if self.usual is None:
            raise LookupError(f"no figure is usual for `{self.key}`: it has to be worked out")
        value = self.usual.value
        return value[kind] if isinstance(value, Mapping) else value
