"""Findings as test results, in the XML that build servers know from test runners.

A suite is a plan, a case is a rule; a finding at or above the threshold of the plan fails its case.
"""

from __future__ import annotations

from typing import Final
from xml.etree import ElementTree as Xml

from wattproof.engine import RULE_FAILED, Result
from wattproof.finding import LEVELS, Finding
from wattproof.reports.findings.glance import headline, remedy_of
from wattproof.reports.findings.run import Run
from wattproof.reports.findings.telling import as_told
from wattproof.reports.writing.columns import clean

_PROBLEM: Final = "plan-unusable"


def render(run: Run) -> str:
    """The document."""
    root = Xml.Element("testsuites", name="wattproof")
    for result in run.results:
        _suite(root, result)
    Xml.indent(root)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{Xml.tostring(root, encoding="unicode")}\n'


def _suite(root: Xml.Element, result: Result) -> None:
    counted = LEVELS[: LEVELS.index(result.settings.least) + 1]
    found: dict[str, list[Finding]] = {}
    for finding in as_told(result):
        if finding.acceptance is None and finding.is_new:
            found.setdefault(finding.rule, []).append(finding)
    suite = Xml.SubElement(root, "testsuite", name=clean(result.file))
    tests = failures = errors = 0
    for problem in result.problems:
        case = Xml.SubElement(suite, "testcase", classname=clean(result.file), name=_PROBLEM)
        told = f"{problem.place}: {problem.message}"
        part = Xml.SubElement(case, "error", message=clean(told))
        if problem.hazard:
            part.set("type", problem.hazard)
        part.text = clean(problem.instead)
        tests, errors = tests + 1, errors + 1
    for rule in dict.fromkeys((*result.ran, *found)):
        case = Xml.SubElement(suite, "testcase", classname=clean(result.file), name=rule)
        tests += 1
        of_rule = found.get(rule, [])
        for finding in of_rule:
            kind = "error" if rule == RULE_FAILED else "failure"
            if finding.level not in counted and kind == "failure":
                continue
            told = f"{finding.level}: {headline(finding)}"
            part = Xml.SubElement(case, kind, message=clean(told), type=finding.hazard)
            part.text = clean(f"{finding.place}: {remedy_of(finding)}")
        failures += any(f.level in counted for f in of_rule) and rule != RULE_FAILED
        errors += rule == RULE_FAILED
    for name, number in (("tests", tests), ("failures", failures), ("errors", errors)):
        suite.set(name, str(number))
