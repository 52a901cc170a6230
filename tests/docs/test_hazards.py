"""The page on hazards names every rule and each hazard once; refusals are refusals."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from plans import edited
from wattproof.source import PlanUnusable
from wattproof.testing import study_of

DOCS = Path(__file__).parents[2] / "docs"
sys.path.insert(0, str(DOCS / "_ext"))

pytest.importorskip("sphinx")

from wattproof_docs import hazards, rules  # noqa: E402


def test_the_page_tells_each_hazard_once_and_links_every_rule() -> None:
    text = hazards.page()
    before, _, after = text.partition("## What public lists of common mistakes name")
    lines = (before + after.partition("## ")[2]).splitlines()
    rows = [line.split("|")[1].strip() for line in lines if line.startswith("|")]
    told = [words for words in rows if words != "Hazard" and words.strip("-: ")]
    assert len(told) == len(set(told)) > 100
    for rule in rules.built_in().rules:
        assert f"[`{rule}`](generated/rules/{rule}.md)" in text, rule


def test_what_else_answers_a_hazard_is_told_beside_it() -> None:
    text = hazards.page()
    for each in hazards.ELSEWHERE:
        [row] = [line for line in text.splitlines() if line.startswith(f"| {each.words} ")]
        assert row.rstrip(" |").endswith(each.otherwise)


def test_each_mistake_of_public_lists_has_a_rule_or_a_reason() -> None:
    built_in = rules.built_in().rules
    reasons = [words for words, _ in hazards.UNCOVERED]
    for each in hazards.LISTED_MISTAKES:
        assert bool(each.rules) != bool(each.otherwise), each.words
        assert set(each.rules) <= set(built_in), each.words
    assert sum(each.otherwise == hazards.BELOW for each in hazards.LISTED_MISTAKES) == 6
    for words in ("Wing nuts", "Posts and bars", "pre-charge", "case of an inverter", "Live pins"):
        assert any(words in reason for reason in reasons), words


HOME = (
    "  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, "
    "place: [roof, cabin]}\n"
)
PV = "cable: pv-10, length: 1 m}\n"
BATTERY = "cable: batt-8, length: 1 m}\n"
WIRES = "wires:\n"
TRACKER = "{kind: mppt, max_input_voltage: 100 V, max_output_current: 20 A, charge_voltage: 14.2 V}"
REFUSALS = {
    "An array with its poles crossed, or a string against the rest": [
        (HOME, f"  a: {{from: roof-string.positive, to: tracker.pv.negative, {PV}"
               f"  b: {{from: roof-string.negative, to: tracker.pv.positive, {PV}"),
    ],
    "Strings in series plus to plus": [
        ("strings:\n", "strings:\n  other: {module: rigid-100, series: 3}\n"),
        (HOME, f"  a: {{from: roof-string.positive, to: other.positive, {PV}"
               f"  b: {{from: roof-string.negative, to: tracker.pv.negative, {PV}"
               f"  c: {{from: other.negative, to: tracker.pv.positive, {PV}"),
    ],
    "One array on two controllers": [
        ("controllers:\n", f"controllers:\n  second: {TRACKER}\n"),
        (WIRES, f"{WIRES}  a: {{from: roof-string, to: second.pv, {PV}"
                f"  b: {{from: second.battery, to: house, {BATTERY}"),
    ],
    "Loads straight on an array, past the controller": [
        (WIRES, f"loads:\n  lamp: {{current: 2 A}}\n{WIRES}"
                f"  a: {{from: tracker.pv, to: lamp, {PV}"),
    ],
    "One controller that feeds another": [
        ("controllers:\n", f"controllers:\n  second: {TRACKER}\n"),
        ("from: tracker.battery, to: house", "from: second.battery, to: house"),
        (WIRES, f"{WIRES}  a: {{from: tracker.battery, to: second.pv, {PV}"),
    ],
    "Poles crossed at a battery, or batteries shorting each other": [
        (WIRES, f"  other: {{chemistry: agm, nominal: 12 V, capacity: 100 Ah}}\n{WIRES}"
                f"  a: {{from: other.positive, to: house.negative, {BATTERY}"
                f"  b: {{from: other.negative, to: house.positive, {BATTERY}"),
    ],
    "Batteries of unlike nominal voltage together": [
        (WIRES, f"  other: {{chemistry: agm, nominal: 24 V, capacity: 100 Ah}}\n{WIRES}"
                f"  a: {{from: other, to: house, {BATTERY}"),
    ],
}  # fmt: skip


def test_every_refusal_has_a_plan() -> None:
    refused = {each.words for each in hazards.ELSEWHERE if each.otherwise == hazards.REFUSED}
    assert refused == set(REFUSALS)


@pytest.mark.parametrize("words", REFUSALS)
def test_such_a_plan_is_refused(words: str) -> None:
    with pytest.raises(PlanUnusable):
        study_of(edited(*REFUSALS[words]))
