"""What a check found, for people, in full: every number, why, on what basis, what is assumed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import Final

from wattproof.engine import Result
from wattproof.finding import Finding
from wattproof.reports.findings.glance import remedy_of
from wattproof.reports.findings.head import about, head_lines, verdict_lines
from wattproof.reports.findings.since_lines import since_lines
from wattproof.reports.findings.summary import counted, elsewhere, ran
from wattproof.reports.findings.telling import (
    Numbers,
    Told,
    all_at_once,
    numbered_findings,
    together_words,
    told_in_order,
    trial_words,
)
from wattproof.reports.findings.verdict import counts, did_fail, live
from wattproof.reports.findings.workings import short_lines, whole_lines
from wattproof.reports.writing.columns import LABEL, hanging, labelled
from wattproof.reports.writing.paint import Paint, plain
from wattproof.reports.writing.wording import (
    HAZARD_WORDS,
    LEVEL_WORDS,
    STANDING,
    VERDICT_WORDS,
    margin_words,
    numbered,
    set_at,
    set_words,
)
from wattproof.settings import Settings
from wattproof.source import Problem
from wattproof.words import enumerated
from wattproof.working import Assumption

_INDENT: Final = 4
_NAME: Final = re.compile("`[^`]+`")


def render(results: Sequence[Result], *, working: bool = False, paint: Paint = plain) -> str:
    """The report on some plans. working: show how every number was worked out, to its inputs."""
    lines: list[str] = []
    for result in results:
        lines.extend(_plan(result, working, paint))
        lines.append("")
    if len(results) > 1:
        lines.extend(labelled("Together", _all_plans(results)))
        lines.append("")
    lines.extend(labelled("Remember", STANDING))
    return "\n".join(lines) + "\n"


def problem_lines(problems: Iterable[Problem]) -> Iterator[str]:
    """Everything that makes a plan unusable; what is wrong alike in several places stands once."""
    alike: dict[tuple[str, str, str], list[Problem]] = {}
    for problem in problems:
        same = (_NAME.sub("", problem.message, count=1), problem.instead, problem.place.file)
        alike.setdefault(same, []).append(problem)
    number = 1
    for each in alike.values():
        first, *others = each
        named = dict.fromkeys(name for p in each for name in _NAME.findall(p.message)[:1])
        names = list(named)[1:]
        message = f"{first.message}; likewise {enumerated(names)}" if names else first.message
        yield ""
        yield from hanging(message, first=f"{number:>2}. ", margin=_INDENT)
        yield from labelled("Where", str(first.place), indent=_INDENT, keep=True)
        if others:
            lines = dict.fromkeys(str(other.place.line) for other in others)
            word = "lines" if len(lines) > 1 else "line"
            yield from labelled("And", f"{word} {enumerated(lines)}", indent=_INDENT)
        yield from labelled("Instead", first.instead, indent=_INDENT)
        number += len(each)


def _plan(result: Result, working: bool, paint: Paint) -> Iterator[str]:
    yield from about(result.file, result.title, result.code, result.code_title)
    yield from labelled("", result.seen)
    yield from head_lines(result, paint)
    if result.problems:
        yield ""
        yield from _heading("This plan cannot be checked as it is")
        yield from problem_lines(result.problems)
    else:
        yield from _findings(result, working)
        yield from _assumptions(result)
        yield from settings_lines(result.settings)
        yield from since_lines(result)
    yield ""
    yield from labelled("Result", counted(result))
    yield from labelled("", ran(result))
    if left := elsewhere(result):
        yield from labelled("Not run", "; ".join(left))
    yield ""
    yield from verdict_lines(result, paint)


def _heading(text: str) -> Iterator[str]:
    yield text
    yield "-" * len(text)


def _findings(result: Result, working: bool) -> Iterator[str]:
    told: dict[str, int] = {}  # the number of the finding that explained a rule
    numbers = numbered_findings(result)
    sections = [
        (f"{LEVEL_WORDS[level]}: {HAZARD_WORDS[hazard]}", list(found))
        for (level, hazard), found in groupby(
            told_in_order(result), key=lambda t: (t.lead.level, t.lead.hazard)
        )
    ]
    for title, section in sections:
        yield ""
        yield from _heading(title)
        for story in section:
            for finding in story.findings:
                number = numbers[finding]
                yield ""
                first = told.setdefault(finding.rule, number)
                yield from _finding(finding, number, first, working, numbers)
                if finding is story.lead:
                    yield from _together(story, numbers)
    if words := all_at_once(result, numbers):
        yield ""
        yield from labelled("At once", f"tried: {words}")
    accepted = [f for f in result.findings if f.acceptance is not None]
    if accepted:
        yield ""
        yield from _heading("Accepted by the owner")
    for finding in accepted:
        number = numbers[finding]
        yield ""
        first = told.setdefault(finding.rule, number)
        yield from _finding(finding, number, first, working, numbers)


def _together(story: Told, numbers: Numbers) -> Iterator[str]:
    """What the other findings about the same component have in common with the first."""
    text = together_words(story, numbers)
    yield from labelled("Together", text, indent=_INDENT)


def _finding(
    finding: Finding, number: int, told: int, working: bool, numbers: Numbers
) -> Iterator[str]:
    def line(label: str, text: str, *, keep: bool = False) -> Iterator[str]:
        return labelled(label, text, indent=_INDENT, keep=keep)

    yield from hanging(finding.message, first=f"{number:>2}. ", margin=_INDENT)
    yield from line("Only", finding.when)
    yield from line("Where", str(finding.place), keep=True)
    for related in finding.related:
        yield from line("", f"{related.place} {related.words}", keep=True)
    for index, other in enumerate(finding.alike):
        yield from line("" if index else "Also", f"{other.place} {other.message}")
    yield from line("Rule", f"{finding.rule}, {finding.level}, {HAZARD_WORDS[finding.hazard]}")
    yield from line("", f"its page, and `wattproof basis {finding.rule}`, tell more", keep=True)
    if finding.verdict == "likely":
        yield from line("Likely", VERDICT_WORDS[finding.verdict])
    for assumption in finding.assumptions:
        yield from line("", assumption.says)
    if working:
        shown = list(whole_lines(finding.values, margin=_INDENT + LABEL))
        if shown:
            yield f"{' ' * _INDENT}{'Working':<{LABEL}}{shown[0][_INDENT + LABEL :]}"
            yield from shown[1:]
    else:
        yield from _numbers(finding)
    yield from line("Margin", margin_words(finding.margin))
    for index, text in enumerate(finding.basis):
        yield from line("" if index else "Basis", text)
    yield from line("Why", finding.explanation if told == number else f"as at {told}.")
    if finding.caution is not None:
        yield from line(finding.caution.signal, finding.caution.text)
    yield from line("Remedy", remedy_of(finding))
    for index, text in enumerate(trial_words(finding, numbers)):
        yield from line("" if index else "Tried", text)
    yield from line("Ask", finding.local if told == number else "")
    if finding.acceptance is not None:
        accepted = finding.acceptance
        yield from line("Accepted", accepted.reason)
        yield from line("", f"approved by {accepted.by}" if accepted.by else "")
        yield from line("", f"until {accepted.until}" if accepted.until else "with no end date")
        yield from line("", str(accepted.place), keep=True)


def _numbers(finding: Finding) -> Iterator[str]:
    margin = _INDENT + LABEL
    first = f"{' ' * _INDENT}{'Numbers':<{LABEL}}"
    for text in short_lines(finding.values):
        yield from hanging(text, first=first, margin=margin + 2)
        first = " " * margin


def _assumptions(result: Result) -> Iterator[str]:
    if not result.uses:
        return
    yield ""
    yield from _heading("Assumed, since the plan does not say")
    for assumption, rules in result.uses.items():
        yield ""
        yield from _assumption(assumption, rules)


def _assumption(assumption: Assumption, rules: tuple[str, ...]) -> Iterator[str]:
    text = f"{assumption.key} ({assumption.subject}): {assumption.says}"
    yield from hanging(text, first="  * ", margin=_INDENT)
    yield from labelled("To settle", assumption.instead, indent=_INDENT)
    yield from labelled("Where", str(assumption.place), indent=_INDENT, keep=True)
    yield from labelled("Touches", ", ".join(rules), indent=_INDENT)


def settings_lines(settings: Settings) -> Iterator[str]:
    """What was set for the rules, so that nobody takes a report for one without it."""
    made = list(settings.all_set())
    if not made:
        return
    yield ""
    yield from _heading("Set for this check")
    for each in made:
        yield ""
        yield from hanging(set_words(each), first="  * ", margin=_INDENT)
        yield from labelled("Reason", each.setting.reason, indent=_INDENT)
        yield from labelled("Where", set_at(each.setting), indent=_INDENT, keep=True)


def _all_plans(results: Sequence[Result]) -> str:
    found = [f for r in results for f in live(r.findings)]
    accepted = sum(len(r.findings) for r in results) - len(found)
    parts = [
        numbered(len(results), "plan"),
        *(numbered(n, level) for level, n in counts(found).items()),
        f"{accepted or 'none'} accepted",
    ]
    unusable = sum(bool(r.problems) for r in results)
    failed = sum(did_fail(r) for r in results)
    if unusable:
        parts.append(f"{unusable} cannot be checked")
    if failed:
        parts.append(f"{failed} only in part, since a rule failed")
    return ", ".join(parts)
