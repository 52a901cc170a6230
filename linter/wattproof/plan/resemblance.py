"""Which of the known words one must be that is none of them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Final

SLIP: Final = 0.8
"""How alike two words are, from 0 to 1, of which one is the other misspelt."""


def nearest(word: str, known: Sequence[str], *, alike: float = 0.7) -> str | None:
    """The known word that this one must be, or None.

    It has the same letters, is misspelt, or is short for it, and counts the same: `pack-3` is no
    slip for `pack-2`. alike: how much one must resemble it that is none of these, from 0 to 1.
    """
    plain = _letters(word)
    if same := spelt_alike(word, known):
        return same
    digits = _digits(word)
    near = [each for each in known if _may_resemble(plain, _letters(each))]
    near = [each for each in near if _digits(each) == digits and not _are_opposed(word, each)]
    found = max(near, key=lambda each: _resemblance(plain, each), default=None)
    if found is not None and _resemblance(plain, found) >= SLIP:
        return found
    short = [each for each in known if plain and _is_short_for(str(word), each)]
    if len(short) == 1:
        return short[0]
    if found is None or found[:1] != plain[:1]:
        return None
    least = 0.66 if len(plain) == len(found) < 5 else alike
    return found if _resemblance(plain, found) >= least else None


def spelt_alike(word: str, known: Sequence[str]) -> str | None:
    """The one known word of the same letters, whatever stands between them, or None."""
    same = [each for each in known if _letters(each) == _letters(word)]
    return same[0] if len(same) == 1 else None


_OPPOSED: Final = (
    *(("max", "min"), ("input", "output"), ("high", "low"), ("hottest", "coldest")),
    *(("positive", "negative"), ("series", "parallel"), ("above", "below"), ("voltage", "current")),
    *(("start", "house"), ("port", "starboard"), ("left", "right"), ("front", "rear")),
)
"""Words of which one is no slip for the other, however alike the rest is."""
_TELLING: Final = frozenset(("max", "min", "discharge", "bank", "usable"))
"""Words that make another thing of what they stand before."""


def _are_opposed(word: str, other: str) -> bool:
    """Whether two words differ in a part that makes another thing of them."""
    one, two = (set(re.split("[-_ .]", each.lower())) for each in (word, other))
    if _TELLING & one - two or (_TELLING & two - one and len(one) != len(two)):
        return len(one) > 1  # in one word nothing tells the parts
    return any(
        (first in one and second in two) or (second in one and first in two)
        for first, second in _OPPOSED
    )


def is_slip(word: str, known: str, alike: float = 0.8) -> bool:
    """Whether a word can only be another one misspelt: a letter or two apart, or its plural."""
    plain, other = _letters(word), _letters(known)
    return plain == other or (_resemblance(plain, known) >= alike and not _are_opposed(word, known))


def _may_resemble(plain: str, other: str) -> bool:
    """Whether two words are of such length and letters that they may be alike; quickly told."""
    if abs(len(plain) - len(other)) > 2 + (len(plain) + len(other)) // 5:
        return False
    return len(set(plain) ^ set(other)) <= 4 + len(plain) // 4


@lru_cache(maxsize=20_000)
def _letters(word: str) -> str:
    return re.sub(r"[\s_.-]", "", word).lower()


@lru_cache(maxsize=20_000)
def _digits(word: str) -> str:
    return re.sub("[^0-9]", "", word)


def _is_short_for(word: str, known: str) -> bool:
    """True for one that begins the other: `nom`, or a name with a word more."""
    begins = known.startswith(word.lower()) and len(word) > 2
    more = re.match(re.escape(known) + "[-_ .]", word.lower()) is not None
    return begins or (more and _digits(word) == _digits(known))


def _resemblance(plain: str, known: str) -> float:
    """How alike two words are in their letters, from 0 to 1."""
    from difflib import SequenceMatcher

    other = _letters(known)
    if len(plain) == len(other) < 5 and sorted(plain) == sorted(other):
        return 1.0  # letters that changed places, of a short word
    return SequenceMatcher(None, plain, other).ratio()
