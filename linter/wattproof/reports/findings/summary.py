"""How much was found and how much ran, in the same words in every report for people."""

from __future__ import annotations

from wattproof.engine import Result
from wattproof.reports.findings.verdict import counts, live
from wattproof.reports.writing.wording import numbered


def counted(result: Result) -> str:
    """How many findings there are of each level, and how many are accepted."""
    if result.problems:
        return f"{numbered(len(result.problems), 'problem')}; no rule ran"
    found = ", ".join(numbered(n, level) for level, n in counts(live(result.findings)).items())
    accepted = len(result.findings) - len(live(result.findings))
    return f"{found}; {accepted or 'none'} accepted"


def ran(result: Result) -> str:
    """How many rules ran; empty for a plan that cannot be checked."""
    if result.problems:
        return ""
    off = len(result.settings.off)
    rules = numbered(len(result.planned) + off, "rule")
    return f"{len(result.ran)} of {rules} ran" + (f", {off} off by settings" if off else "")
