"""The report for people: 80 columns, no hidden characters, no verdict that is not earned."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reports.report_rules import FAILING, PLAN, always_fails, only, result_of, sound_result
from wattproof.packs import PackFailure, RuleSet
from wattproof.reports.figures import text as figures_text
from wattproof.reports.findings import text
from wattproof.reports.writing.columns import WIDTH, clean, labelled, width, wrapped
from wattproof.source import Place, Problem
from wattproof.testing import study_of
from wattproof.views.figures import figures_of

SOUND_WORDS = "no rule found a fault"


@pytest.mark.parametrize("working", [False, True])
def test_every_line_fits_in_80_columns(working: bool) -> None:
    for results in ([result_of()], [result_of(), result_of("x"), result_of(rules=FAILING)]):
        for line in text.render(results, working=working).splitlines():
            assert width(line) <= WIDTH, line
            assert line == line.rstrip()


def test_a_long_place_stays_whole_so_that_it_can_be_followed() -> None:
    file = "a-folder-with-a-long-name/" * 5 + "plan.yaml"
    assert f"{file}:1:1\n" in text.render([result_of("x", file=file)])


def test_every_finding_has_place_rule_level_basis_caution_remedy_and_whom_to_ask() -> None:
    shown = text.render([result_of()])
    for needed in (
        "faulty.yaml:27:3\n",
        "wire-over-limit, error",
        "Clause 7.1 (2023; from memory)",
        "DANGER    It can set fire",
        "Remedy    use a larger size",
        "27.5 % past the limit",
        "the maker of the fuse",
        "where it must work",
    ):
        assert needed in shown


def test_errors_and_fire_come_first_and_accepted_findings_last() -> None:
    shown = text.render([result_of()])
    heads = ["Errors: fire", "Warnings: electric shock", "Notes: lost energy", "Accepted by"]
    places = [shown.index(head) for head in heads]
    assert places == sorted(places)
    assert "2 errors, 2 warnings, 1 note; 1 accepted" in shown
    assert "approved by the electrician who signed the test sheet" in shown
    assert "4 of 4 rules ran" in shown


def test_an_assumption_says_what_to_write_and_which_rules_it_touches() -> None:
    shown = text.render([result_of()])
    assumed = shown[shown.index("Assumed, since") :]
    assert "coldest temperature (site):" in assumed
    assert "To settle site: coldest" in assumed
    assert "Touches   array-over-input" in assumed


def test_the_short_form_of_a_working_has_numbers_and_the_whole_one_has_lines_and_sources() -> None:
    short, whole = text.render([result_of()]), text.render([result_of()], working=True)
    assert "1.25 × 10.2 A = 12.75 A" in short
    assert "kbright × Isc" not in short
    for needed in ("kbright × Isc", "faulty.yaml:8:48", "NEC 690.8(A)(1)", "Table 1, row 7"):
        assert needed in whole


@pytest.mark.parametrize(
    "result",
    [
        result_of(rules=FAILING),
        result_of(),
        result_of("wattproof: 1"),
        result_of(rules=RuleSet({}, (PackFailure("other", "other.rules", "ImportError: no"),))),
        result_of(rules=only(always_fails)),
    ],
    ids=["failed", "undecided", "unusable", "pack", "only"],
)
def test_no_verdict_of_soundness_where_something_is_open(result: object) -> None:
    shown = text.render([result])  # type: ignore[list-item]
    assert SOUND_WORDS not in shown
    assert "sound" not in shown.replace(" sound ", " ")


def test_a_plan_without_a_finding_is_told_so_with_what_it_rests_on() -> None:
    shown = text.render([sound_result()])
    assert SOUND_WORDS in shown
    assert "given " in shown
    assert "does not replace the local code" in " ".join(shown.split())


def test_a_failed_rule_keeps_what_it_saw_and_says_that_it_failed() -> None:
    shown = " ".join(text.render([result_of(rules=FAILING)]).split())
    assert "seen before it failed" in shown
    assert "rule `always-fails` failed" in shown
    assert "1 of 2 rules ran" in shown


HOSTILE = [
    "\x1b[31mred\x1b[0m",
    "over\u202ewritten",
    "two\nlines\r\nmore",
    "bell\x07\x00",
    "half\ud800",
    "line\u2028end",
    "\x9b2J",
]


@pytest.mark.parametrize("bad", HOSTILE)
def test_hostile_text_cannot_move_the_cursor_or_hide(bad: str) -> None:
    safe = clean(bad)
    assert safe.isprintable()
    assert "\n" not in safe
    named = text.render([result_of("x", file=f"{bad}.yaml")])
    assert all(line.isprintable() for line in named.split("\n"))


@given(st.text(), st.integers(10, 70))
def test_wrapping_keeps_every_visible_character_and_the_width(written: str, columns: int) -> None:
    lines = list(wrapped(written, columns))
    assert all(width(line) <= columns for line in lines)
    assert "".join("".join(lines).split()) == "".join(clean(written).split())


def test_number_and_unit_stay_together() -> None:
    assert "\n".join(wrapped("it may carry 30 A here", 15)) == "it may carry\n30 A here"


def test_wide_characters_count_twice() -> None:
    assert width("太陽") == 4
    assert all(width(line) <= WIDTH for line in labelled("Plan", "太陽" * 90))


def test_figures_fit_in_80_columns_and_name_their_states() -> None:
    study = study_of(PLAN)
    for working in (False, True):
        shown = figures_text.render("a.yaml", "", "", "", figures_of(study), working=working)
        assert all(width(line) <= WIDTH for line in shown.splitlines())
    assert "open-circuit voltage               coldest" in shown
    assert "the coldest bright morning" in shown
    assert shown.count("\nport\n") == 1


def test_a_long_word_is_measured_once(monkeypatch: pytest.MonkeyPatch) -> None:
    from wattproof.reports.writing import columns

    measured = 0
    width = columns.width

    def counting(text: str) -> int:
        nonlocal measured
        measured += len(text)
        return width(text)

    monkeypatch.setattr(columns, "width", counting)
    word = "日" * 20_000
    assert "".join(columns.wrapped(word, 60)) == word
    assert measured < 4 * len(word)


def test_what_is_wrong_alike_in_several_places_stands_once() -> None:
    said = [("wire `a` has no key `size`", "name a cable"), ("wire `b` has no key `size`", "other")]
    problems = [
        Problem(Place("plan.yaml", line, 3, line, 9), *said[line == 6]) for line in (4, 5, 6)
    ] + [Problem(Place("plan.yaml", 8, 3, 8, 9), "wire `c` has no key `size`", "name a cable")]
    assert [line for line in text.problem_lines(problems) if line] == [
        " 1. wire `a` has no key `size`; likewise `c`",
        "    Where     plan.yaml:4:3",
        "    And       lines 5 and 8",
        "    Instead   name a cable",
        " 4. wire `b` has no key `size`",
        "    Where     plan.yaml:6:3",
        "    Instead   other",
    ]
