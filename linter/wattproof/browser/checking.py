"""What a check found, as a page shows it while somebody types."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from wattproof.finding import Finding
from wattproof.question import Question
from wattproof.reports.findings.choices import not_chosen
from wattproof.reports.findings.glance import headline, lines_of, verdict_of
from wattproof.reports.findings.summary import counted, ran
from wattproof.reports.findings.telling import Numbers, as_told, numbered_findings, trial_words
from wattproof.reports.findings.workings import short_lines
from wattproof.reports.writing import json_values as as_json
from wattproof.reports.writing.columns import clean
from wattproof.reports.writing.wording import HAZARD_SHORT, HAZARD_WORDS, STANDING, margin_words

if TYPE_CHECKING:
    from wattproof.browser.desk import Desk
    from wattproof.engine import Result


def checked(desk: Desk) -> dict[str, Any]:
    """Verdict, findings, problems, questions and what is not chosen, of the plan on the desk."""
    result = desk.checked.result
    verdict = verdict_of(result)
    numbers = numbered_findings(result)
    remedies = {line.number: line.remedy for line in lines_of(result)}
    choices = not_chosen(result)
    return {
        "file": result.file,
        "title": clean(result.title),
        "code": result.code_title,
        "verdict": verdict._asdict(),
        "counted": counted(result),
        "ran": ran(result),
        "standing": STANDING,
        "local": result.local,
        "problems": [as_json.problem(each) for each in result.problems],
        "findings": [_finding(each, numbers, remedies) for each in as_told(result)],
        "questions": [_question(each) for each in result.questions],
        "choices": choices._asdict() if choices is not None else None,
        "layouts": any(each.key == "arrangement" for each in result.opens),
        "assumed": [as_json.assumption(each) for each in result.uses],
    }


def documented(desk: Desk, format: str) -> str:
    """The check in a format of `wattproof check`, with all that it can tell."""
    from wattproof.reports.findings.formats import writer_of
    from wattproof.reports.findings.run import Run
    from wattproof.reports.findings.verdict import exit_status

    results: list[Result] = [desk.checked.result]
    return writer_of(format)(Run(results, exit_status(results), desk.rules))


def _finding(finding: Finding, numbers: Numbers, remedies: dict[int, str]) -> dict[str, Any]:
    """One finding: its line, and what is folded below it."""
    number = numbers[finding]
    caution = finding.caution
    return {
        "number": number,
        "rule": finding.rule,
        "level": finding.level,
        "hazard": HAZARD_SHORT[finding.hazard],
        "hazard_words": HAZARD_WORDS[finding.hazard],
        "headline": clean(headline(finding)),
        "remedy": clean(remedies.get(number, finding.remedy)),
        "mends": any(trial.clears for trial in finding.trials) and finding.acceptance is None,
        "accepted": clean(finding.acceptance.reason) if finding.acceptance else "",
        "caution": caution._asdict() if caution else None,
        "why": clean(finding.explanation),
        "margin": margin_words(finding.margin),
        "rests": [clean(each.says) for each in finding.assumptions],
        "tried": [clean(words) for words in trial_words(finding, numbers)],
        "basis": list(finding.basis),
        "local": finding.local,
        "numbers": [clean(line) for line in short_lines(finding.values)],
        "places": [
            as_json.place(place)
            for place in (finding.place, *(other.place for other in finding.alike))
        ],
    }


def _question(question: Question) -> dict[str, Any]:
    """One thing to look up."""
    return {
        "asks": clean(question.asks),
        "line": clean(question.line),
        "where": clean(question.where),
        "instead": clean(question.instead),
        "marginal": question.marginal,
        "places": [as_json.place(place) for place in dict.fromkeys(question.places)],
        "decides": [
            f"{HAZARD_WORDS[each.hazard]}: {clean(each.message)}" for each in question.decides
        ],
    }
