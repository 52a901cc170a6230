"""Whether what cuts the array off opens both of its poles."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, asked, found

MISSING = "array-switch-missing"
POLE = "array-switch-one-pole"
ARRAY = RULES.rules[MISSING].sound
NONE = RULES.rules[MISSING].faulty.of(ARRAY)
ONE_POLE = edited(("poles: 2", "poles: 1"), plan=ARRAY)
UNSTATED = edited(("poles: 2, ", ""), plan=ARRAY)
BONDED = "bonds: {tie: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}}\nwires:\n"


@pytest.mark.parametrize(
    ("setting", "level"), [("vehicle", "note"), ("boat", "note"), ("cabin", "warning")]
)
def test_a_switch_of_one_pole_by_setting(setting: str, level: str) -> None:
    [finding] = found(edited(("setting: vehicle", f"setting: {setting}"), plan=ONE_POLE), POLE)
    assert (finding.level, finding.verdict) == (level, "certain")
    assert finding.subjects == ("pv-off", "tracker")
    assert "with `pv-off` open, the negative of the array at tracker stays" in finding.message
    assert "up to 82 V" in finding.message
    assert "for at least 82 V and 6.5 A DC" in finding.remedy
    assert not found(ARRAY, POLE)


def test_poles_that_are_not_stated_are_asked() -> None:
    assert not found(UNSTATED, POLE)
    assert asked(UNSTATED, POLE) == ["poles"]


def test_a_second_switch_may_open_the_other_pole() -> None:
    sheet = "{rating: 30 A, voltage: 150 V, dc: true, poles: 1, load_break: true}"
    wires = (
        "  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, "
        "place: [roof, cabin],\n             inline: [pv-off]}\n"
    )
    apart = (
        "  plus: {from: roof-string.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m, "
        "inline: [pv-off]}\n"
        "  minus: {from: roof-string.negative, to: tracker.pv.negative, cable: pv-10, "
        "length: 4 m, inline: [other]}\n"
    )
    both = edited((wires, apart), ("switches:\n", f"switches:\n  other: {sheet}\n"), plan=ONE_POLE)
    assert not found(both, POLE)
    alone = edited((", inline: [other]", ""), (f"  other: {sheet}\n", ""), plan=both)
    assert found(alone, POLE)
    assert not found(edited(("poles: 1", "poles: 2"), plan=alone), POLE)  # drawn in one wire only


@pytest.mark.parametrize(
    ("changes", "fires"),
    [
        ((), False),  # a tracker passes the negative through, as common practice has it
        ((("{kind: mppt,", "{kind: mppt, common: negative,"),), False),
        ((("{kind: mppt,", "{kind: mppt, common: positive,"),), True),
        ((("{kind: mppt,", "{kind: mppt, isolated: true,"),), True),
        ((("{kind: mppt,", "{kind: pwm,"),), True),  # may pass either pole
        ((("{kind: mppt,", "{kind: pwm, common: negative,"),), False),
        ((("from: house.negative", "from: roof-string.negative"),), False),
    ],
)
def test_an_array_with_a_grounded_negative(
    changes: tuple[tuple[str, str], ...], fires: bool
) -> None:
    plan = edited(("wires:\n", BONDED), *changes, plan=ONE_POLE)
    assert bool(found(plan, POLE)) is fires


def test_without_a_switch_or_with_a_plug_another_rule_speaks_or_none() -> None:
    assert not found(NONE, POLE)
    small = ("series: 3, mounting: roof-gap", "series: 2, mounting: ground, portable: true")
    assert not found(edited(small, plan=ONE_POLE), POLE)


def test_a_switch_in_the_tied_negative_alone() -> None:
    """The tie at the battery reaches the array's negative through the tracker."""
    wires = (
        "  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, "
        "place: [roof, cabin],\n             inline: [pv-off]}\n"
    )
    apart = (
        "  plus: {from: roof-string.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m}\n"
        "  minus: {from: roof-string.negative, to: tracker.pv.negative, cable: pv-10, "
        "length: 4 m, inline: [pv-off]}\n"
    )
    plan = edited((wires, apart), ("wires:\n", BONDED), plan=ONE_POLE)
    [finding] = found(plan, POLE)
    assert finding.level == "warning"
    assert "the positive of the array at tracker stays joined" in finding.message
    assert "against the ground that its negative is tied to" in finding.message
    assert not found(edited(("poles: 1", "poles: 2"), plan=plan), POLE)
    swapped = edited(
        ("length: 4 m}", "length: 4 m, inline: [pv-off]}"),
        ("tracker.pv.negative, cable: pv-10, length: 4 m, inline: [pv-off]}",
         "tracker.pv.negative, cable: pv-10, length: 4 m}"),
        plan=plan,
    )  # fmt: skip
    assert not found(swapped, POLE)
