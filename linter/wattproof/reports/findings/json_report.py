"""What a check found, for programs: the document that schemas/report.schema.json describes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from wattproof.engine import Result
from wattproof.finding import Acceptance, Brought, Finding, Known, Related, Since, Trial
from wattproof.question import Question
from wattproof.reports.findings.run import Run
from wattproof.reports.findings.verdict import did_fail
from wattproof.reports.writing import json_values as as_json
from wattproof.settings import Settings
from wattproof.stories import Story
from wattproof.together import Together

VERSION: Final = 2


def render(run: Run) -> str:
    """The report on some plans."""
    return as_json.dumped(document(run.results, run.status))


def document(results: Sequence[Result], status: int) -> dict[str, Any]:
    """The report as plain data. status: the exit status that the run ends with."""
    return {"report": VERSION, "plans": [_plan(result) for result in results], "status": status}


def _plan(result: Result) -> dict[str, Any]:
    return {
        "file": result.file,
        "title": result.title,
        "code": result.code,
        "code_title": result.code_title,
        "codes": {"array": result.codes[0], "battery": result.codes[1]},
        "local": result.local,
        "seen": result.seen,
        "problems": [as_json.problem(p) for p in result.problems],
        "findings": [_finding(f) for f in result.findings],
        "questions": [question(q) for q in result.questions],
        "at_worst": result.at_worst,
        "not_chosen": [
            {"family": o.family, "component": o.name, "key": o.key, **as_json.place(o.place)}
            for o in result.opens
        ],
        "waiting": [_waiting(f) for f in result.waiting],
        "stories": [_story(s) for s in result.stories],
        "together": _together(result.together),
        "assumptions": [
            {**as_json.assumption(a), "rules": list(rules)} for a, rules in result.uses.items()
        ],
        "rules_ran": list(result.ran),
        "rules_planned": list(result.planned),
        "rules_elsewhere": [{"rule": rule, "why": why} for rule, why in result.elsewhere.items()],
        "settings": _settings(result.settings),
        "since": _since(result.since),
        "failed": did_fail(result),
    }


def _since(since: Since | None) -> dict[str, Any] | None:
    """What became of the findings of an older check; None where it is compared with none."""
    if since is None:
        return None
    gone = [known_finding(each) for each in since.gone]
    return {"file": since.file, "gone": gone}


def known_finding(known: Known) -> dict[str, Any]:
    """What is kept of a finding as plain data."""
    return {
        "rule": known.rule,
        "subjects": list(known.subjects),
        "level": known.level,
        "margin": as_json.number(known.margin),
        "message": known.message,
    }


def _settings(settings: Settings) -> dict[str, Any]:
    return {
        "file": settings.file,
        "threshold": settings.least,
        "threshold_origin": as_json.origin(settings.threshold),
        "rules": [
            {
                "rule": made.rule,
                "what": made.what,
                "option": made.name,
                "value": made.setting.value,
                "reason": made.setting.reason,
                "origin": as_json.origin(made.setting),
            }
            for made in settings.all_set()
        ],
    }


def _finding(finding: Finding) -> dict[str, Any]:
    caution = finding.caution
    return {
        "rule": finding.rule,
        "level": finding.level,
        "hazard": finding.hazard,
        "part": finding.part,
        "rule_level": finding.rule_level,
        "verdict": finding.verdict,
        "cause": finding.cause,
        "message": finding.message,
        "when": finding.when,
        **as_json.place(finding.place),
        "subjects": list(finding.subjects),
        "alike": [_alike(f) for f in finding.alike],
        "related": [_related(r) for r in finding.related],
        "basis": list(finding.basis),
        "local": finding.local,
        "explanation": finding.explanation,
        "caution": {"signal": caution.signal, "text": caution.text} if caution else None,
        "remedy": finding.remedy,
        "trials": [_trial(t) for t in finding.trials],
        "margin": as_json.number(finding.margin),
        "values": [as_json.value(v) for v in finding.values],
        "working": as_json.working(finding.values),
        "assumptions": [as_json.assumption(a) for a in finding.assumptions],
        "acceptable": finding.acceptable,
        "acceptance": _acceptance(finding.acceptance),
        "known": not finding.is_new,
    }


def _waiting(finding: Finding) -> dict[str, Any]:
    """What cannot be judged before something is chosen."""
    return {
        "rule": finding.rule,
        "message": finding.message,
        **as_json.place(finding.place),
        "subjects": list(finding.subjects),
    }


def _alike(finding: Finding) -> dict[str, Any]:
    """What is its own of a finding that is told with another of the same cause."""
    return {
        "message": finding.message,
        **as_json.place(finding.place),
        "subjects": list(finding.subjects),
        "related": [_related(r) for r in finding.related],
        "remedy": finding.remedy,
        "margin": as_json.number(finding.margin),
        "values": [as_json.value(v) for v in finding.values],
    }


def question(asked: Question) -> dict[str, Any]:
    """A question as plain data."""
    return {
        "line": asked.line,
        "asks": asked.asks,
        "where": asked.where,
        "instead": asked.instead,
        "labels": [
            {"what": label.key, "subject": label.subject, **as_json.place(place)}
            for label, place in zip(asked.labels, asked.places, strict=True)
        ],
        "hazard": asked.hazard,
        "level": asked.level,
        "likelihood": asked.likelihood,
        "rank": as_json.number(asked.rank),
        "marginal": asked.marginal,
        "decides": [
            {
                "rule": d.rule,
                "hazard": d.hazard,
                "level": d.level,
                "message": d.message,
                **as_json.place(d.place),
                "subjects": list(d.subjects),
                "margin": as_json.number(d.margin),
            }
            for d in asked.decides
        ],
    }


def _story(story: Story) -> dict[str, Any]:
    changes = [as_json.change(c) for c in story.changes]
    return {
        "component": story.component,
        "findings": list(story.findings),
        "changes": changes,
        "clears": list(story.clears),
    }


def _together(made: Together | None) -> dict[str, Any] | None:
    """What came of following all remedies at once."""
    if made is None:
        return None
    return {
        "changes": [as_json.change(c) for c in made.changes],
        "followed": list(made.followed),
        "left": list(made.left),
        "apart": [{"followed": one, "given_up": other} for one, other in made.apart],
        "brings": [_brought(b) for b in made.brings],
    }


def _brought(brought: Brought) -> dict[str, Any]:
    return {"rule": brought.rule, "level": brought.level, "message": brought.message}


def _trial(trial: Trial) -> dict[str, Any]:
    return {
        "changes": [as_json.change(c) for c in trial.changes],
        "clears": [{"rule": rule, "subjects": list(on)} for rule, on in trial.clears],
        "brings": [_brought(b) for b in trial.brings],
    }


def _related(related: Related) -> dict[str, Any]:
    return {**as_json.place(related.place), "words": related.words}


def _acceptance(accepted: Acceptance | None) -> dict[str, Any] | None:
    if accepted is None:
        return None
    return {
        "reason": accepted.reason,
        "by": accepted.by,
        "until": accepted.until or None,
        **as_json.place(accepted.place),
    }
