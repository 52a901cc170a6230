"""Which rules a plan's setting leaves out, and why, in every output."""

from __future__ import annotations

import html
import re

import pytest

from plans import edited
from rule_runs import RULES, faulty
from wattproof.engine import Result
from wattproof.reports import page
from wattproof.reports.findings import brief, json_report, text
from wattproof.reports.findings.summary import elsewhere, ran
from wattproof.reports.page import markdown_report
from wattproof.reports.page.contents import page_of
from wattproof.rule import Rule
from wattproof.testing import check_text

SETTINGS = ("vehicle", "boat", "cabin", "portable")
BOUND = sorted((r for r in RULES.rules.values() if r.settings), key=lambda r: r.id)


def in_setting(plan: str, setting: str) -> str:
    [own] = re.findall(r"(?m)^setting: (\w+)", plan)
    return edited((f"setting: {own}", f"setting: {setting}"), plan=plan)


def test_some_are_bound_to_settings_and_say_why() -> None:
    assert {r.id for r in BOUND} >= {"building-rules-apply", "mount-not-proven"}
    for rule in BOUND:
        assert set(rule.settings) < set(SETTINGS)
        assert rule.elsewhere[0].islower()
        assert not rule.elsewhere.endswith(".")


@pytest.mark.parametrize("rule", BOUND, ids=lambda r: r.id)
@pytest.mark.parametrize("setting", SETTINGS)
def test_it_runs_in_its_settings_alone(rule: Rule, setting: str) -> None:
    result = check_text(in_setting(faulty(rule.id), setting), RULES)
    own = setting in rule.settings
    assert (rule.id in result.ran) == own
    assert (rule.id in result.elsewhere) != own
    assert set(result.ran) == set(result.planned)
    assert set(result.planned) | set(result.elsewhere) == set(RULES.rules)
    if not own:
        assert not [f for f in result.each if f.rule == rule.id]


@pytest.fixture(scope="module")
def result() -> Result:
    return check_text(in_setting(faulty("mount-not-proven"), "boat"), RULES)


def test_the_full_text_says_which_and_why(result: Result) -> None:
    shown = " ".join(text.render([result]).split())
    for rule, why in result.elsewhere.items():
        assert f"`{rule}`: {why}" in shown


def test_the_short_text_says_how_many(result: Result) -> None:
    shown = brief.render([result])
    assert f"{len(result.elsewhere)} not for this setting" in " ".join(shown.split())
    for why in result.elsewhere.values():
        assert why not in shown


def test_a_programme_reads_each(result: Result) -> None:
    [plan] = json_report.document([result], 0)["plans"]
    told = {each["rule"]: each["why"] for each in plan["rules_elsewhere"]}
    assert told == result.elsewhere
    assert not set(told) & {*plan["rules_ran"], *plan["rules_planned"]}


def test_markdown_and_page_say_which_and_why(result: Result) -> None:
    written = markdown_report.render([markdown_report.with_tables(None, result)])
    shown = html.unescape(re.sub(r"<[^>]+>", "", page.render(page_of(None, result, {}))))
    for rule, why in result.elsewhere.items():
        assert f"`{rule}`: {why}" in written
        assert f"{rule}: {why}" in shown


def test_where_nothing_is_left_out_nothing_is_said() -> None:
    plain = Result(file="x", planned=("a",), ran=("a",))
    assert elsewhere(plain) == ()
    assert ran(plain) == "1 of 1 rule ran"
