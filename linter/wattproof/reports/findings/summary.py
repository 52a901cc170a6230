"""What may be said of a plan as a whole, in the same words in every report for people."""

from __future__ import annotations

from wattproof.engine import Result
from wattproof.reports.findings.verdict import counts, did_fail, live
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


def verdict(result: Result) -> str:
    """What may be said of the plan. Never that it is sound: only what was or was not found."""
    if did_fail(result):
        return "Part of the check failed. What it guards against is not known to be absent."
    if result.problems:
        return "Nothing is known of this plan until its problems are mended."
    open_ones = live(result.findings)
    grave = any(f.level != "note" for f in open_ones)
    mend = "Mend what was found before any part is connected." if grave else ""
    if open_ones:
        return mend or "No rule found more than what the notes say."
    if result.findings:
        return "Nothing was found beyond what the owner accepts."
    to_look_up = [q for q in result.questions if not q.marginal]
    if to_look_up:
        return (
            f"Nothing was found in what is told; {numbered(len(to_look_up), 'thing')} to look up."
        )
    rests = f", given {numbered(len(result.uses), 'assumption')}" if result.uses else ""
    rule = "rule that ran" if result.settings.off else "rule"
    return f"No {rule} found a fault in what the plan declares{rests}."
