"""Markdown for pull requests: all that was found, and nothing of a plan that means something."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from markdown_it import MarkdownIt

from found import found_in_file
from reports.pages import EXAMPLES, HOSTILE_PLAN, ROOT, RULES
from wattproof.engine import Result, check_file
from wattproof.reports.page import markdown_report
from wattproof.reports.writing.markdown import code, escaped, marked
from wattproof.testing import A_DAY

MARKDOWN = MarkdownIt("commonmark", {"html": True}).enable("table")
FAULTY = ROOT / "examples" / "faulty" / "van-cold-morning.yaml"


def result_of(text: str) -> Result:
    return check_file("plan.yaml", RULES, today=A_DAY, text=text)


def written(*results: Result) -> str:
    return markdown_report.render([markdown_report.with_tables(None, each) for each in results])


def rendered(*results: Result) -> str:
    return str(MARKDOWN.render(written(*results)))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_finding_has_a_row_and_a_fold(path: Path) -> None:
    result = found_in_file(path)
    html = rendered(result)
    rows = re.findall(r"<tr>\s*<td>(\d+)</td>", html)
    assert [int(row) for row in rows] == list(range(1, len(result.findings) + 1))
    folds = len(result.findings) + bool(result.uses)
    assert html.count("<details>") == html.count("</details>") == folds
    for finding in result.findings:
        assert f"{finding.rule}</summary>" in html
    assert "does not replace the local code" in html


def test_each_row_has_its_five_cells() -> None:
    html = rendered(found_in_file(FAULTY))
    for row in re.findall(r"<tr>(.*?)</tr>", html, re.DOTALL):
        assert len(re.findall(r"<t[hd]", row)) == 5


def test_a_hostile_plan_is_text_only() -> None:
    html = rendered(result_of(HOSTILE_PLAN))
    tags = set(re.findall(r"<([a-z0-9]+)", html))
    assert not tags & {"script", "img", "b", "i", "a"}
    assert "49" not in html.split("</h2>")[0]


def test_a_plan_that_cannot_be_checked_tells_its_problems() -> None:
    text = written(result_of("wattproof: 1\nsettin: boat\nfuses: 3\n"))
    assert "- `plan.yaml:2:1`" in text
    assert "Instead: write `setting`." in text
    assert "| --" not in text


def test_several_plans_stand_below_each_other_and_are_cautioned_once() -> None:
    results = [found_in_file(path) for path in EXAMPLES[:3]]
    text = written(*results)
    assert len(re.findall(r"(?m)^## ", text)) == 3
    assert text.count("licensed electrician.") == 1


@pytest.mark.parametrize(
    "text",
    ["a | b", "<b>", "*x*", "_x_", "[a](b)", "![a](b)", "# x", "`x`", "~~x~~", "&amp;", "@someone"],
)
def test_no_sign_means_anything(text: str) -> None:
    html = str(MARKDOWN.render(f"| a | b |\n| -- | -- |\n| {escaped(text)} | c |\n"))
    cells = re.findall(r"<td>(.*?)</td>", html)
    assert len(cells) == 2
    assert "<" not in cells[0].replace("&lt;", "")


def test_only_what_stands_between_backticks_is_code() -> None:
    assert marked("use `8 AWG` <b>") == r"use `8 AWG` \<b\>"
    assert code("a|b`c") == "`a¦b'c`"
    assert code(" ") == " "
