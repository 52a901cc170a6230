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
    left = len(result.elsewhere)
    rules = numbered(len(result.planned) + left + off, "rule")
    parts = [f"{len(result.ran)} of {rules} ran"]
    if left:
        parts.append(f"{left} not for this setting")
    if off:
        parts.append(f"{off} off by settings")
    return ", ".join(parts)


def elsewhere(result: Result) -> tuple[str, ...]:
    """The rules that the plan's setting leaves out, each with the reason."""
    return tuple(f"`{rule}`: {why}" for rule, why in result.elsewhere.items())
