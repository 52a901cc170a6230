"""How much the long tests do: a sample in the ordinary run, everything where it is asked for.

    WATTPROOF_LONG=1 pytest

`WATTPROOF_LONG=1 .ci/run` does so for a change. The ordinary run has to end while one waits for it:
what is generated is taken here in part, the first of the same fixed sequence, so that nothing
passes in the long run that fails in the short one.
"""

from __future__ import annotations

import os

LONG = bool(os.environ.get("WATTPROOF_LONG"))


def amount(usual: int, long: int) -> int:
    """How many to take: usual in the ordinary run, long where everything is run."""
    return long if LONG else usual
