"""Formats of one line a finding, and those of test runners and merge requests."""

from __future__ import annotations

import inspect
import re
from xml.etree import ElementTree as Xml

import pytest

from reports.report_rules import FAILING, result_of, run_of, sound_result
from wattproof.reports.findings import annotations, junit, markdown, short
from wattproof.reports.findings.formats import FORMATS, writer_of
from wattproof.reports.findings.run import Run
from wattproof.reports.findings.verdict import live


def test_short_has_one_line_a_finding_as_compilers_write_them() -> None:
    result = result_of()
    found = short.render(run_of(result)).splitlines()
    assert len(found) == len(live(result.findings))
    form = re.compile(r"^faulty\.yaml:\d+:\d+: (error|warning|note): .+ \[[a-z/-]+\]$")
    assert all(form.match(line) for line in found)


def test_short_tells_what_makes_a_plan_unusable() -> None:
    [line] = short.render(run_of(result_of("x"))).splitlines()
    assert line.startswith("faulty.yaml:1:1: error: ")
    assert line.endswith("[plan-unusable]")


def test_workflow_commands_escape_what_would_end_them() -> None:
    made = annotations.render(run_of(result_of(file="a,b:c.yaml")))
    for line in made.splitlines():
        properties, message = re.match(r"^::(?:error|warning|notice) (.*?)::(.*)$", line).groups()  # type: ignore[union-attr]
        assert "file=a%2Cb%3Ac.yaml" in properties
        assert message
        assert not re.search(r"%(?!25|0D|0A)", message)


def test_junit_is_xml_with_a_suite_a_plan_and_a_case_a_rule() -> None:
    root = Xml.fromstring(
        junit.render(run_of(result_of(), result_of("x"), result_of(rules=FAILING)))
    )
    found, unusable, failing = root.findall("testsuite")
    assert int(found.get("failures", "0")) == len(
        [case for case in found.findall("testcase") if case.find("failure") is not None]
    )
    assert unusable.find("testcase/error") is not None
    assert int(failing.get("errors", "0")) >= 1
    for suite in (found, unusable, failing):
        assert int(suite.get("tests", "0")) == len(suite.findall("testcase"))


def test_markdown_begins_with_the_verdict_and_has_a_row_a_finding() -> None:
    result = result_of()
    shown = markdown.render(run_of(result))
    assert shown.splitlines()[2].startswith("**DO NOT CONNECT**")
    rows = [line for line in shown.splitlines() if re.match(r"^\| \d+ \|", line)]
    assert len(rows) == len(live(result.findings))


@pytest.mark.parametrize("word", FORMATS)
def test_every_format_is_made_from_a_run(word: str) -> None:
    write = writer_of(word)
    assert inspect.get_annotations(write, eval_str=True) == {"run": Run, "return": str}
    found, unusable, failed = result_of(), result_of("x"), result_of(rules=FAILING)
    for run in (run_of(), run_of(sound_result(), status=0), run_of(found, unusable, failed)):
        made = write(run)
        assert made == write(run)
        assert made == "" or made.endswith("\n")
        assert "\x1b" not in made


@pytest.mark.parametrize("word", FORMATS)
def test_every_format_tells_what_was_found(word: str) -> None:
    result = result_of()
    made = writer_of(word)(run_of(result))
    for finding in live(result.findings):
        names = {finding.rule, *finding.subjects}
        assert any(name in made for name in names), finding.message
