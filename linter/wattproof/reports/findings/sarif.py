"""What a check found, as SARIF 2.1.0, which code hosts and editors read."""

from __future__ import annotations

import hashlib
import os
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Final, TypeAlias
from urllib.parse import quote

from wattproof import __version__
from wattproof.engine import OWN_FINDINGS, RULE_FAILED, Result
from wattproof.finding import Acceptance, Finding, Hazard, Level
from wattproof.packs import RuleSet
from wattproof.question import Question
from wattproof.reports.findings.glance import remedy_of
from wattproof.reports.findings.run import Run
from wattproof.reports.findings.telling import said
from wattproof.reports.findings.verdict import did_fail
from wattproof.reports.writing.json_values import dumped, number
from wattproof.reports.writing.rule_pages import page_of_rule
from wattproof.reports.writing.wording import HAZARD_WORDS, cited, set_at
from wattproof.rule import COMMON_PRACTICE, Clause, Rule
from wattproof.settings import NOTHING_SET, Settings
from wattproof.source import Place, Problem

if TYPE_CHECKING:
    from wattproof.fixes import Fix

SCHEMA: Final = "https://json.schemastore.org/sarif-2.1.0.json"
FINGERPRINT: Final = "ruleAndSubjects/v1"
UNUSABLE: Final = "plan-unusable"
_ONLY_WRITTEN: Final = "Writing it changes no part: the installation has to be built so."
_BASE: Final = "STARTED-IN"
_SEVERITY: Final[Mapping[Hazard, Mapping[Level, str]]] = {
    "fire": {"error": "9.5", "warning": "7.5", "note": "3.9"},
    "shock": {"error": "9.5", "warning": "7.5", "note": "3.9"},
    "injury": {"error": "9.5", "warning": "7.5", "note": "3.9"},
    "damage": {"error": "6.9", "warning": "5.0", "note": "2.0"},
    "lost-energy": {"error": "3.9", "warning": "3.0", "note": "1.0"},
    "legal": {"error": "3.9", "warning": "3.0", "note": "1.0"},
}
"""What hosts of repositories sort by, from 0 to 10: high from 7 on, critical from 9 on."""


def render(run: Run) -> str:
    """The log of one run over some plans."""
    return dumped(
        document(
            run.results, run.rules, run.status, documentation=run.documentation, fixes=run.fixes
        )
    )


Fixes: TypeAlias = "Mapping[Finding, tuple[Fix, ...]]"


def document(
    results: Sequence[Result],
    rule_set: RuleSet,
    status: int,
    *,
    documentation: str = "",
    fixes: Fixes | None = None,
) -> dict[str, Any]:
    """The log as plain data. status: the exit status that the run ends with.

    documentation: the address at which it is published; empty for none. fixes: what remedies would
    write.
    """
    findings = [finding for result in results for finding in result.findings]
    rules = [_rule(rule) for rule in sorted(rule_set.rules.values(), key=lambda r: r.id)]
    own = sorted({f.rule for f in findings} - set(rule_set.rules))
    rules += [_own_rule(rule_id) for rule_id in own]
    for rule in rules:
        page = page_of_rule(documentation, rule["id"])
        rule |= {"helpUri": page} if page else {}
    index = {rule["id"]: position for position, rule in enumerate(rules)}
    runs_under = _distinct(results)
    taxonomies = _taxonomies(rule_set)
    run: dict[str, Any] = {
        "tool": {
            "driver": {
                "name": "Wattproof",
                "version": __version__,
                "semanticVersion": __version__,
                "shortDescription": _message(
                    "Checks a declared off-grid solar installation before any part is connected."
                ),
                "rules": rules,
                "supportedTaxonomies": [{"name": each["name"]} for each in taxonomies],
                "notifications": [_own_rule(UNUSABLE), _own_rule(RULE_FAILED)],
            }
        },
        "taxonomies": taxonomies,
        "invocations": [
            _invocation([r for r in results if r.settings == own], own, index, status)
            for own in runs_under
        ],
        "artifacts": [
            {"location": location, "roles": ["analysisTarget"]}
            for location in map(_artifact, dict.fromkeys(r.file for r in results))
        ],
        "originalUriBaseIds": {_BASE: {"description": _message("The folder it was started in.")}},
        "columnKind": "unicodeCodePoints",
        "language": "en",
        "results": [
            {**found, **_provenance(runs_under, result)}
            for result in results
            for found in (
                *_results(result, index, fixes or {}),
                *_absent(result, index),
                *_open(result.questions, index),
            )
        ],
    }
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def _rule(rule: Rule) -> dict[str, Any]:
    return {
        "id": rule.id,
        "shortDescription": _message(rule.summary),
        "fullDescription": _message(rule.explanation),
        "help": {"text": "\n".join(_help(rule)), "markdown": "\n\n".join(_help(rule, "**"))},
        "defaultConfiguration": {"level": rule.level},
        "properties": {
            "hazard": rule.hazard,
            "part": rule.part,
            "tags": [rule.hazard, rule.part],
            "security-severity": _SEVERITY[rule.hazard][rule.level],
        },
        "relationships": [
            {
                "target": {"id": clause.reference, "toolComponent": {"name": key}},
                "kinds": ["relevant"],
            }
            for key, clause in rule.basis.items()
            if _is_of_a_body(key, clause)
        ],
        **({"deprecatedIds": list(rule.former_ids)} if rule.former_ids else {}),
    }


def _taxonomies(rule_set: RuleSet) -> list[dict[str, Any]]:
    """The bodies of rules that rules are based on, with their clauses as they are paraphrased."""
    clauses: dict[str, dict[str, Clause]] = {}
    for rule in rule_set.rules.values():
        for key, clause in rule.basis.items():
            if _is_of_a_body(key, clause):
                clauses.setdefault(key, {}).setdefault(clause.reference, clause)
    return [
        {
            "name": key,
            "shortDescription": _message("Clauses of a body of rules, paraphrased."),
            "isComprehensive": False,
            "taxa": [
                {
                    "id": reference,
                    "shortDescription": _message(held[reference].says),
                    "properties": {"edition": held[reference].edition},
                }
                for reference in sorted(held)
            ],
        }
        for key, held in sorted(clauses.items())
    ]


def _is_of_a_body(key: str, clause: Clause) -> bool:
    return bool(clause.edition) and key != COMMON_PRACTICE


def _help(rule: Rule, mark: str = "") -> list[str]:
    lines = [rule.explanation]
    if rule.caution is not None:
        lines.append(f"{mark}{rule.caution.signal}{mark}: {rule.caution.text}")
    lines += [f"{mark}Basis, {key}{mark}: {cited(clause)}" for key, clause in rule.basis.items()]
    if rule.local:
        lines.append(f"{mark}Ask{mark}: {rule.local}")
    return lines


def _own_rule(rule_id: str) -> dict[str, Any]:
    says = OWN_FINDINGS.get(rule_id, "A plan cannot be checked as it is.")
    return {"id": rule_id, "shortDescription": _message(says), "help": _message(says)}


def _results(result: Result, index: Mapping[str, int], fixes: Fixes) -> list[dict[str, Any]]:
    seen: Counter[str] = Counter()
    found = []
    for finding in result.findings:
        key = "\n".join((finding.rule, *finding.subjects))
        seen[key] += 1
        made = _result(finding, index[finding.rule], f"{key}\n{seen[key]}")
        if finding in fixes:
            made["fixes"] = [_fix(each, finding, result.file) for each in fixes[finding]]
        if result.since is not None:
            made["baselineState"] = "new" if finding.is_new else "unchanged"
        found.append(made)
    return found


def _absent(result: Result, index: Mapping[str, int]) -> Iterator[dict[str, Any]]:
    """What an older check found and this one does not."""
    for known in result.since.gone if result.since is not None else ():
        if known.rule in index:
            key = "\n".join((known.rule, *known.subjects, "1"))
            yield {
                "ruleId": known.rule,
                "ruleIndex": index[known.rule],
                "kind": "fail",
                "level": known.level,
                "baselineState": "absent",
                "message": _message(known.message),
                "locations": [{"physicalLocation": {"artifactLocation": _artifact(result.file)}}],
                "partialFingerprints": {FINGERPRINT: _digest(key)},
                "properties": {"subjects": list(known.subjects)},
            }


def _digest(key: str) -> str:
    return hashlib.sha256(key.encode()).hexdigest()


def _result(finding: Finding, rule_index: int, key: str) -> dict[str, Any]:
    result: dict[str, Any] = {
        "ruleId": finding.rule,
        "ruleIndex": rule_index,
        "kind": "fail",
        "level": finding.level,
        "message": _message(_told(finding)),
        "locations": [_location(f.place, f.subjects) for f in finding.each],
        "partialFingerprints": {FINGERPRINT: _digest(key)},
        "suppressions": [_suppression(finding.acceptance)] if finding.acceptance else [],
        "properties": {
            "hazard": finding.hazard,
            "hazardWords": HAZARD_WORDS[finding.hazard],
            "part": finding.part,
            "verdict": finding.verdict,
            "ruleLevel": finding.rule_level,
            "subjects": list(finding.all_subjects),
            "basis": list(finding.basis),
            "local": finding.local,
            "remedy": remedy_of(finding),
            "margin": number(finding.margin),
            "assumptions": [a.says for a in finding.assumptions],
        },
    }
    if finding.related:
        result["relatedLocations"] = [
            {"id": i, **_location(r.place), "message": _message(r.words)}
            for i, r in enumerate(finding.related, start=1)
        ]
    return result


def _fix(fix: Fix, finding: Finding, file: str) -> dict[str, Any]:
    """A remedy as it would be written into the plan."""
    words = f"{finding.remedy}. In the plan: {said(fix.changes)}. {_ONLY_WRITTEN}"
    return {
        "description": _message(words),
        "artifactChanges": [
            {
                "artifactLocation": _artifact(file),
                "replacements": [
                    {
                        "deletedRegion": {
                            "startLine": each.line,
                            "startColumn": each.column,
                            "endLine": each.end_line,
                            "endColumn": each.end_column,
                        },
                        "insertedContent": {"text": each.text},
                    }
                    for each in fix.replacements
                ],
            }
        ],
    }


def _open(questions: Sequence[Question], index: Mapping[str, int]) -> list[dict[str, Any]]:
    """Questions: what hangs on each is open, neither a pass nor a failure."""
    return [
        {
            "ruleId": decided.rule,
            "ruleIndex": index[decided.rule],
            "kind": "open",
            "level": "none",
            "message": _message(f"Look up {asked.asks}. If it is at its worst: {decided.message}"),
            "locations": [_location(decided.place, decided.subjects)],
            "partialFingerprints": {
                FINGERPRINT: _digest(
                    "\n".join((decided.rule, *decided.subjects, asked.labels[0].key))
                )
            },
            "properties": {
                "hazard": decided.hazard,
                "hazardWords": HAZARD_WORDS[decided.hazard],
                "question": asked.line,
                "where": asked.where,
                "instead": asked.instead,
                "subjects": list(decided.subjects),
            },
        }
        for asked in questions
        for decided in asked.decides
    ]


def _suppression(accepted: Acceptance) -> dict[str, Any]:
    approved = f", approved by {accepted.by}" if accepted.by else ""
    until = f", until {accepted.until}" if accepted.until else ""
    return {
        "kind": "external",
        "status": "accepted",
        "justification": f"{accepted.reason}{approved}{until}",
        "location": _location(accepted.place),
    }


def _distinct(results: Sequence[Result]) -> list[Settings]:
    """The settings that plans were checked under, each once: an invocation is for each of them."""
    found: list[Settings] = []
    for result in results:
        if result.settings not in found:
            found.append(result.settings)
    return found or [NOTHING_SET]


def _provenance(runs_under: Sequence[Settings], result: Result) -> dict[str, Any]:
    """Which invocation a result is of, where there are several."""
    if len(runs_under) == 1:
        return {}
    return {"provenance": {"invocationIndex": runs_under.index(result.settings)}}


def _override(rule_id: str, settings: Settings, index: Mapping[str, int]) -> dict[str, Any]:
    """What is set for a rule, and where."""
    own = [made for made in settings.all_set() if made.rule == rule_id]
    configuration: dict[str, Any] = {"enabled": rule_id not in settings.off}
    if rule_id in settings.levels:
        configuration["level"] = settings.levels[rule_id].value
    if settings.options_of(rule_id):
        configuration["parameters"] = settings.options_of(rule_id)
    reason = next((made.setting.reason for made in own if made.setting.reason), "")
    return {
        "descriptor": {"id": rule_id, "index": index[rule_id]},
        "configuration": configuration,
        "properties": {
            "reason": reason,
            "setAt": list(dict.fromkeys(set_at(made.setting) for made in own)),
        },
    }


def _invocation(
    results: Sequence[Result], settings: Settings, index: Mapping[str, int], status: int
) -> dict[str, Any]:
    notes = [_unusable(problem) for result in results for problem in result.problems]
    notes += [_failed(f) for result in results for f in result.findings if f.rule == RULE_FAILED]
    successful = not any(did_fail(r) or r.problems for r in results)
    changed = dict.fromkeys(made.rule for made in settings.all_set())
    overrides = [_override(rule_id, settings, index) for rule_id in changed]
    return {
        "executionSuccessful": successful,
        "exitCode": status,
        "toolExecutionNotifications": notes,
        **({"ruleConfigurationOverrides": overrides} if overrides else {}),
    }


def _unusable(problem: Problem) -> dict[str, Any]:
    instead = f". Instead: {problem.instead}" if problem.instead else ""
    return {
        "descriptor": {"id": UNUSABLE},
        "level": "error",
        "message": _message(problem.message + instead),
        "locations": [_location(problem.place)],
        **({"properties": {"hazard": problem.hazard}} if problem.hazard else {}),
    }


def _failed(finding: Finding) -> dict[str, Any]:
    return {
        "descriptor": {"id": RULE_FAILED},
        "level": "error",
        "message": _message(finding.message),
        "locations": [_location(finding.place)],
    }


def _location(place: Place, subjects: Sequence[str] = ()) -> dict[str, Any]:
    location: dict[str, Any] = {
        "physicalLocation": {
            "artifactLocation": _artifact(place.file),
            "region": {
                "startLine": place.line,
                "startColumn": place.column,
                "endLine": place.end_line,
                "endColumn": place.end_column,
            },
        }
    }
    if subjects:
        location["logicalLocations"] = [{"name": name, "kind": "object"} for name in subjects]
    return location


def _artifact(file: str) -> dict[str, Any]:
    """A file below the folder that the run was started in, by a relative reference; another file
    by its whole one."""
    path = os.path.relpath(file) if os.path.isabs(file) and _is_below(file) else file
    path = os.path.normpath(path)
    if os.path.isabs(path) or path.split(os.sep)[0] == os.pardir:
        whole = os.path.abspath(path).replace(os.sep, "/")
        return {"uri": f"file:///{_escaped(whole.lstrip('/'))}"}
    return {"uri": _escaped(path.replace(os.sep, "/")), "uriBaseId": _BASE}


def _is_below(file: str) -> bool:
    here = os.getcwd()
    return os.path.splitdrive(file)[0] == os.path.splitdrive(here)[0] and os.path.commonpath(
        [os.path.normpath(file), here]
    ) == os.path.normpath(here)


def _escaped(path: str) -> str:
    return quote(path.encode("utf-8", "surrogateescape"), safe="/")


_LINK = re.compile(r"\[(?=[^\]]*\]\()")


def _told(finding: Finding) -> str:
    """A finding in a line: what, when, and what to do."""
    when = f", {finding.when}" if finding.when else ""
    return f"{finding.message}{when}. Remedy: {remedy_of(finding) or 'see the rule'}"


def _message(text: str) -> dict[str, str]:
    """A message that is taken as it stands: braces doubled, so that none is a placeholder, and
    brackets marked where they would read as a link."""
    text = text.replace("{", "{{").replace("}", "}}")
    return {"text": _LINK.sub(r"\\[", text)}
