"""How much the long tests do: a sample in the ordinary run, everything where it is asked for.

    WATTPROOF_WHOLE=1 pytest
    WATTPROOF_LONG=1 pytest

The ordinary run has to end while one waits for it: what takes long is taken here in part, always
the same part of a fixed sequence, so that nothing passes in the long run that fails in the short
one. The whole run takes all that the repository keeps; `.ci/run` does so for every change. The long
one takes all that is generated as well; `WATTPROOF_LONG=1 .ci/run` does so for a change.
"""

from __future__ import annotations

import os

LONG = bool(os.environ.get("WATTPROOF_LONG"))
WHOLE = LONG or bool(os.environ.get("WATTPROOF_WHOLE"))


def amount(usual: int, long: int, whole: int | None = None) -> int:
    """How many to take: usual in the ordinary run, long where everything is run.

    whole: how many where all that is kept is run; None takes as many as usually.
    """
    if LONG:
        return long
    return whole if WHOLE and whole is not None else usual


def a_quarter_of(count: int) -> int:
    """Of so many examples drawn by chance as many in the ordinary run; elsewhere all of them."""
    return count if WHOLE else -(-count // 4)
