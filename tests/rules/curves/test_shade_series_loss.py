"""What a declared shadow costs a series array against the light that it takes."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, sound
from rule_runs import found_beside_all as found
from wattproof.testing import check_text

SHADE = "shade-series-loss"


def test_shade_by_hand() -> None:
    """Half the light on one of two modules: a quarter is taken, about half is lost."""
    plan = sound(SHADE, ("module: 1, groups: 1, light: 50 %", "module: 1, light: 50 %"))
    (finding,) = found(plan, SHADE)
    lost, taken, apart = (v.number for v in finding.values)
    assert taken == pytest.approx(0.25)
    assert 0.40 < lost < 0.52
    assert 0.20 < apart < 0.30
    assert finding.level == "note"
    assert "roof-box" in finding.subjects


@pytest.mark.parametrize(
    ("shadow", "fires"),
    [
        ("module: 1, groups: 1, light: 50 %", False),  # an eighth taken, about a quarter lost
        ("light: 50 %", False),  # all alike: half taken, half lost
        ("module: 1, light: 5 %", False),  # nearly all of one taken, half lost
        ("module: 1, light: 50 %", True),
    ],
)
def test_shade(shadow: str, fires: bool) -> None:
    plan = sound(SHADE, ("module: 1, groups: 1, light: 50 %", shadow))
    assert bool(found(plan, SHADE)) == fires


def test_shade_in_parallel_and_without_cases() -> None:
    plan = sound(
        SHADE,
        ("module: 1, groups: 1, light: 50 %", "module: 1, light: 50 %"),
        ("series: 2", "arrangement: 1s2p"),
    )
    assert not found(plan, SHADE)
    bare = RULES.rules[SHADE].sound.split("shade:\n")[0]
    assert not found(bare, SHADE)


TREES = ("site: {", "site: {obstacles: [trees, roof-box], ")


def untold(*edits: tuple[str, str]) -> str:
    return edited(*edits, plan=sound("shade-series-loss").split("shade:\n")[0])


def test_shade_is_asked_about_where_something_may_throw_it() -> None:
    result = check_text(untold(TREES), RULES)
    assert not [f for f in result.findings if f.rule == "shade-series-loss"]
    [question] = [q for q in result.questions if "are shaded" in q.asks]
    assert question.asks == "which modules of `roof-string` are shaded, and for how long"
    assert "trees and the roof box" in question.where
    [decided] = question.decides
    assert "one module in the shade would cost it" in decided.message
    percent = int(decided.message.split("cost it ")[1].split(" %")[0])
    assert 30 <= percent <= 85


def test_nothing_is_asked_where_shade_is_told_or_nothing_throws_it() -> None:
    for plan in (untold(), edited(TREES, plan=sound("shade-series-loss"))):
        result = check_text(plan, RULES)
        assert not [q for q in result.questions if "are shaded" in q.asks]


@pytest.mark.parametrize(
    ("place", "asked"), [("mast", True), ("under-trees", True), ("master-cabin", False)]
)
def test_a_place_that_is_named_after_what_throws_shadows_is_enough(place: str, asked: bool) -> None:
    plan = untold(("places: {", f"places: {{{place}: {{ambient: 40 °C}}, "))
    questions = check_text(plan, RULES).questions
    assert any("are shaded" in q.asks for q in questions) is asked
