"""The open-circuit voltage of a hot array against what its tracker needs to start."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, all_found, sound
from rule_runs import found_beside_all as found
from wattproof.testing import study_of

START = "tracker-will-not-start"
MISSED = "hot-voltage-under-battery"
HOT = 40.0 + 30.0  # °C of cells on an open rack


def hot_voc() -> float:
    (array,) = study_of(RULES.rules[START].sound).array.arrays
    cells = array.all_strings[0].cells("hottest").number
    assert cells == pytest.approx(HOT, abs=5)
    return 24.3 * (1 - 0.0029 * (cells - 25))


@pytest.mark.parametrize(("over", "fires"), [(-0.001, False), (0.001, True)])
def test_start_at_the_limit(over: float, fires: bool) -> None:
    margin = hot_voc() - 13.4 + over  # 13.4 V: a charged lithium battery at rest
    plan = sound(START, ("start_above_battery: 5 V", f"start_above_battery: {margin:.6f} V"))
    assert [f.level for f in found(plan, START)] == (["warning"] if fires else [])


@pytest.mark.parametrize(
    ("chemistry", "margin", "fires"),
    [
        ("flooded", "8.4 V", False),  # rests at 12.7 V: 21.1 V
        ("flooded", "8.6 V", True),
        ("agm", "8.2 V", False),  # rests at 12.9 V: 21.1 V
        ("agm", "8.4 V", True),
    ],
)
def test_start_by_chemistry(chemistry: str, margin: str, fires: bool) -> None:
    plan = sound(
        START,
        ("start_above_battery: 5 V", f"start_above_battery: {margin}"),
        ("lithium-iron-phosphate, nominal: 12.8 V", f"{chemistry}, nominal: 12 V"),
    )
    assert bool(found(plan, START)) == fires


def test_start_never_and_the_number_that_starts() -> None:
    plan = sound(START, ("start_above_battery: 5 V", "start_above_battery: 12 V"))
    (finding,) = found(plan, START)
    assert "even with cells at 25 °C" in finding.message
    assert finding.margin == pytest.approx(hot_voc() / 25.4 - 1)
    assert finding.remedy == "put at least 2 in series"
    assert not found(edited(("series: 1", "series: 2"), plan=plan), START)


@pytest.mark.parametrize(
    "edits",
    [
        (("start_above_battery: 8 V, ", ""),),
        (("kind: mppt", "kind: pwm"),),
        (("blocks_reverse: true", "boost: true, blocks_reverse: true"),),
        (  # does not even keep going
            ("mounting: open-rack", "mounting: roof-bonded"),
            ("vmp: 20.4 V", "vmp: 17 V"),
            ("pmax: 100 W", "pmax: 83 W"),
        ),
    ],
)
def test_start_is_not_asked(edits: tuple[tuple[str, str], ...]) -> None:
    plan = sound(START, ("start_above_battery: 5 V", "start_above_battery: 8 V"))
    assert not found(edited(*edits, plan=plan), START)


@pytest.mark.parametrize(
    ("vmp", "pmax", "told"),
    [
        ("20.4 V", "100 W", {START: "warning"}),  # 14.8 V hot, a little under 15.2 V
        ("18 V", "88 W", {START: "warning", MISSED: "note"}),
        ("17 V", "83 W", {MISSED: "warning"}),
    ],
)
def test_of_too_little_to_go_on_another_rule_tells(
    vmp: str, pmax: str, told: dict[str, str]
) -> None:
    plan = sound(
        START,
        ("start_above_battery: 5 V", "start_above_battery: 9 V"),
        ("mounting: open-rack", "mounting: roof-bonded"),
        ("vmp: 20.4 V", f"vmp: {vmp}"),
        ("pmax: 100 W", f"pmax: {pmax}"),
    )
    assert all_found(plan) == told
