"""The danger in one glance: the verdict on a plan, and what is shortest to say of each finding.

Every report for people begins with it, in the same words.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from wattproof.engine import Result
from wattproof.finding import Finding
from wattproof.question import Question
from wattproof.reports.findings.telling import as_told, numbered_findings
from wattproof.reports.findings.verdict import counts, did_fail, live
from wattproof.reports.writing.wording import HAZARD_SHORT, numbered
from wattproof.words import enumerated

MOST_QUESTIONS: Final = 5
"""Questions that are told at once; the others stand in the full report and on their own sheet."""

_OUTCOME: Final = {
    "fire": "start a fire",
    "shock": "give a deadly shock",
    "injury": "injure or kill people",
}
"""What it can do by the hazards that hurt people."""


class Verdict(NamedTuple):
    """What is to be done about a plan.

    signal: in capitals, as on a tag. says: why, in a sentence. grave: how alarming, from 0 (nothing
    found) to 3 (do not connect).
    """

    signal: str
    says: str
    grave: int


class Line(NamedTuple):
    """A finding in one line, and its remedy in another.

    where: the place in the plan, as FILE:LINE:COLUMN.
    """

    number: int
    level: str
    hazard: str
    headline: str
    remedy: str
    where: str


def verdict_of(result: Result) -> Verdict:
    """What is to be done about a plan, by the gravest that was found."""
    if did_fail(result):
        return Verdict(
            "NOT FULLY CHECKED",
            "a part of the check failed, and what it guards against is not known to be absent",
            3,
        )
    if result.problems:
        problems = numbered(len(result.problems), "problem")
        mend = f"{problems} to mend in the file first"
        hazard = result.problems[0].hazard
        if hazard:
            can = f"built as it is written, it can {_OUTCOME[hazard]}"
            return Verdict("DO NOT CONNECT", f"{mend}; {can}; nothing else is known yet", 3)
        says = f"{mend}; nothing is known of this plan until then"
        return Verdict("CANNOT BE CHECKED", says, 2)
    found = live(result.findings)
    listed = _listed(found)
    errors = [f for f in found if f.level == "error"]
    deadly = dict.fromkeys(_OUTCOME[f.hazard] for f in errors if f.hazard in _OUTCOME)
    if deadly:
        return Verdict("DO NOT CONNECT", f"{listed}; it can {enumerated(deadly)}", 3)
    if errors:
        return Verdict("FIX FIRST", f"{listed}; parts would be damaged or not work", 2)
    if any(f.level == "warning" for f in found):
        return Verdict("LOOK AGAIN", listed, 1)
    return Verdict("NOTHING FOUND", _nothing(result, found), 0)


def lines_of(result: Result) -> Iterator[Line]:
    """Every finding that nobody accepts, the gravest first."""
    numbers = numbered_findings(result)
    for finding in as_told(result):
        if finding.acceptance is not None:
            continue
        yield Line(
            numbers[finding],
            finding.level,
            HAZARD_SHORT[finding.hazard],
            headline(finding),
            remedy_of(finding),
            str(finding.place),
        )


def headline(finding: Finding) -> str:
    """What is wrong, and with how many more parts of the same cause."""
    likely = "" if finding.verdict == "certain" else "likely: "
    when = f" ({finding.when})" if finding.when else ""
    return f"{likely}{finding.message}{when}{_alike(finding)}"


def remedy_of(finding: Finding, most: int | None = None) -> str:
    """What to do, and for those of the same cause that need something else, what that is.

    most: so many of the others at most, with a word on how many there are besides; None for all.
    """
    same: dict[str, list[Finding]] = {_for_any(finding): []}
    for other in (each for each in finding.alike if each.remedy):
        same.setdefault(_for_any(other), []).append(other)
    _, *others = same.values()
    told = [_told_for(each) for each in others]
    more = len(told) - len(told[:most])
    rest = [f"and something else for {more} more, as `--full` tells"] if more else []
    return "; ".join([finding.remedy, *told[:most], *rest])


def _told_for(each: list[Finding]) -> str:
    """What some need alike; where it names its own parts, those of the first."""
    first, *rest = dict.fromkeys(f"`{finding.subjects[0]}`" for finding in each)
    words = each[0].remedy
    if rest and any(finding.remedy != words for finding in each):
        return f"for {first}: {words}, and the same for {enumerated(rest)}"
    return f"for {enumerated([first, *rest])}: {words}"


def _for_any(finding: Finding) -> str:
    """Its remedy without the names of its components."""
    words = finding.remedy
    for number, name in enumerate(finding.subjects):
        words = words.replace(f"`{name}`", f"`{number}`").replace(f"`{name}.", f"`{number}.")
    return words


def first_questions(result: Result) -> tuple[Question, ...]:
    """What is worth most to be looked up."""
    return tuple(q for q in result.questions if not q.marginal)[:MOST_QUESTIONS]


def more_questions(result: Result) -> int:
    """How many there are beside those."""
    return sum(not q.marginal for q in result.questions) - len(first_questions(result))


def _alike(finding: Finding) -> str:
    if not finding.alike:
        return ""
    names = dict.fromkeys(other.subjects[0] for other in finding.alike)
    names.pop(finding.subjects[0], None)
    if not names:
        return ""
    return f"; likewise {enumerated(f'`{name}`' for name in names)}"


def _listed(found: list[Finding]) -> str:
    parts = [numbered(n, level) for level, n in counts(found).items() if n]
    return enumerated(parts) if parts else "nothing"


def _no_fault(rule: str, result: Result) -> str:
    if result.uses:
        return f"no {rule} found a fault, given {numbered(len(result.uses), 'assumption')}"
    return f"no {rule} found a fault in what the plan declares"


def _nothing(result: Result, found: list[Finding]) -> str:
    """What was found all the same, and what was not told. Never that a plan is sound."""
    open_ones = sum(not q.marginal for q in result.questions)
    labels = sum(len(q.labels) for q in result.questions if not q.marginal)
    beyond = [_listed(found)] if found else []
    if len(found) < len(result.findings):
        beyond.append("what the owner accepts")
    if not beyond and not open_ones and not result.opens:
        return _no_fault("rule that ran" if result.settings.off else "rule", result)
    said = "nothing found"
    if open_ones:
        said += " in what is told"
    elif result.opens and not beyond:
        said += " in what is chosen"
    if beyond:
        said += f" beyond {' and '.join(beyond)}"
    if open_ones:
        said += f"; {numbered(labels, 'label')} to look up"
    later = result.opens and (open_ones or beyond)
    return f"{said}, and not all is chosen yet" if later else said
