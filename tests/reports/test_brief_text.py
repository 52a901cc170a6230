"""The short text: the danger in one glance, at most eight lines a finding, in any width."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from plans import edited
from reports.report_rules import FAILING, result_of, sound_result
from rule_runs import RULES
from wattproof.engine import check_file
from wattproof.reports.findings import brief, glance, head, text
from wattproof.reports.findings.head import head_lines
from wattproof.reports.writing.columns import NARROWEST, on_screen, width
from wattproof.reports.writing.paint import coloured
from wattproof.testing import A_DAY

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
FAULTY = sorted((EXAMPLES / "faulty").glob("*.yaml"))
PLACE = re.compile(r"\S+:\d+:\d+")


@cache
def checked(path: Path) -> object:
    return check_file(str(path), RULES, today=A_DAY, shown_as=f"examples/{path.name}")


@pytest.mark.parametrize("path", FAULTY, ids=lambda p: p.stem)
def test_the_verdict_stands_first_and_last(path: Path) -> None:
    lines = brief.render([checked(path)]).splitlines()  # type: ignore[list-item]
    signs = [n for n, line in enumerate(lines) if "DO NOT CONNECT" in line]
    assert signs[0] < 6
    remember = next(n for n, line in enumerate(lines) if line.startswith("Remember"))
    assert signs[-1] == remember - 2


@pytest.mark.parametrize("path", FAULTY, ids=lambda p: p.stem)
def test_eight_lines_a_finding_and_ninety_in_all(path: Path) -> None:
    shown = brief.render([checked(path)])  # type: ignore[list-item]
    below = shown.split("\n\n")
    for block in below:
        if re.match(r" ?\d+\. ", block) and "Where" in block:
            assert len(block.splitlines()) <= 8, block
    assert len(shown.splitlines()) <= 90


def test_a_plan_without_findings_fits_on_half_a_screen() -> None:
    shown = brief.render([sound_result()])
    assert "NOTHING FOUND" in shown
    assert len(shown.splitlines()) <= 22


@pytest.mark.parametrize("columns", [20, NARROWEST, 60, 80, 120])
def test_every_line_but_places_fits_the_screen(columns: int) -> None:
    with on_screen(columns):
        shown = brief.render([result_of(), result_of("x"), result_of(rules=FAILING)])
    for line in shown.splitlines():
        most = max(columns, NARROWEST)
        assert width(line) <= most or PLACE.search(line) or "`--full`" in line, line


def test_signals_by_what_was_found() -> None:
    def signal(**more: object) -> str:
        return glance.verdict_of(result_of(**more)).signal  # type: ignore[arg-type]

    assert signal() == "DO NOT CONNECT"
    assert signal(text="x") == "CANNOT BE CHECKED"
    short = "wires:\n  oops: {from: house.positive, to: house.negative, cable: pv-10}\n"
    assert signal(text=edited(("wires:\n", short))) == "DO NOT CONNECT"
    assert signal(rules=FAILING) == "NOT FULLY CHECKED"
    assert glance.verdict_of(sound_result()).signal == "NOTHING FOUND"


def test_colour_is_on_what_is_urgent_and_can_be_left_off() -> None:
    plain, painted = brief.render([result_of()]), brief.render([result_of()], paint=coloured)
    assert "\x1b" not in plain
    assert re.sub(r"\x1b\[[\d;]*m", "", painted) == plain
    assert "\x1b[1;97;41mDO NOT CONNECT\x1b[0m" in painted


def test_the_verdict_alone() -> None:
    assert brief.quiet([result_of()]).count("\n") == 1
    assert brief.quiet([result_of()]).startswith("faulty.yaml: DO NOT CONNECT")


def test_the_full_text_begins_with_the_same_head() -> None:
    head = "\n".join(head_lines(result_of()))
    assert head in text.render([result_of()])
    assert head in brief.render([result_of()])


def test_each_finding_has_the_name_of_its_rule_and_the_text_says_what_to_do_with_it() -> None:
    shown = brief.render([result_of()])
    assert "`basis RULE`" in shown
    assert "`basis RULE`" not in brief.render([sound_result()])
    blocks = [b for b in shown.split("\n\n") if re.match(r" ?\d+\. ", b) and "Remedy" in b]
    assert blocks
    assert all(re.search(r"\[[a-z-]+\]$", block.rstrip()) for block in blocks)
    full = text.render([result_of()])
    for rule in re.findall(r"^    Rule +([a-z-]+),", full, flags=re.MULTILINE):
        assert f"`wattproof basis {rule}`" in full


def test_a_headline_takes_two_lines_only_where_there_are_few_and_is_cut_between_words() -> None:
    def told(found: int) -> list[str]:
        line = glance.Line(1, "error", "fire", "`a fuse` carries " + "more " * 40, "mend", "p:1:1")
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(head, "lines_of", lambda _: [line] * found)
            shown = "\n".join(head_lines(result_of()))
        return [said for said in shown.splitlines() if "more" in said and "?" not in said]

    few = told(5)
    assert len(few) == 10
    assert all(line.endswith("more…") for line in few[1::2])
    assert len(told(6)) == 6
