"""What a run comes to: the exit status, the same in every output, and the counts behind it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from wattproof.engine import Result
from wattproof.finding import LEVELS, Finding, Level

CLEAR: Final = 0
FOUND: Final = 1
UNUSABLE: Final = 2
FAILED: Final = 3


def exit_status(results: Sequence[Result]) -> int:
    """The worst over all plans: a failed rule, an unusable plan, findings, nothing.

    Findings below the threshold that is set for their plan do not count. Accepted ones never do,
    nor do those that an older check found too.
    """
    return max((_status(result) for result in results), default=CLEAR)


def did_fail(result: Result) -> bool:
    """True where not all was checked that should have been: no verdict may be given."""
    return result.failed or (not result.problems and result.ran != result.planned)


def live(findings: Iterable[Finding]) -> list[Finding]:
    """The findings that nobody has accepted."""
    return [f for f in findings if f.acceptance is None]


def counts(findings: Iterable[Finding]) -> dict[Level, int]:
    """How many there are of each level."""
    found = list(findings)
    return {level: sum(f.level == level for f in found) for level in LEVELS}


def _status(result: Result) -> int:
    if did_fail(result):
        return FAILED
    if result.problems:
        return UNUSABLE
    counted = LEVELS[: LEVELS.index(result.settings.least) + 1]
    found = (f for f in live(result.findings) if f.is_new)
    return FOUND if any(f.level in counted for f in found) else CLEAR
