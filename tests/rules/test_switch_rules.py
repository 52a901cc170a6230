"""Rules on switches: what cuts an array off, in which order, and under which load."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.testing import check_examples, check_text

RULES = discover()
MISSING = "array-switch-missing"
STRANDS = "battery-switch-strands-controller"
LOAD = "switch-not-load-break"
POLE = "array-switch-one-pole"
ARRAY = RULES.rules[MISSING].sound
BOTH = RULES.rules[STRANDS].sound
SWITCHED = RULES.rules[LOAD].sound
NONE = RULES.rules[MISSING].faulty.of(ARRAY)
STRANDED = RULES.rules[STRANDS].faulty.of(BOTH)


def found(plan: str, rule: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


@pytest.mark.parametrize("rule", [MISSING, STRANDS, LOAD, POLE])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# Something that cuts the array off.


@pytest.mark.parametrize(
    ("setting", "level"),
    [("vehicle", "warning"), ("boat", "warning"), ("cabin", "error"), ("portable", "warning")],
)
def test_no_switch_by_setting(setting: str, level: str) -> None:
    [finding] = found(edited(("setting: vehicle", f"setting: {setting}"), plan=NONE), MISSING)
    assert finding.level == level
    assert finding.subjects == ("tracker", "roof-string")
    # 3 × 24.3 V × (1 + 0.0029 × 43) = 82 V; 1.25 × 5.2 A = 6.5 A
    assert "up to 81.99 V and 6.5 A" in finding.message
    assert "at least 81.99 V and 6.5 A DC" in finding.remedy


@pytest.mark.parametrize(
    ("series", "isc", "fires"),
    [
        ("2", "12 A", False),  # 48.6 V and 1.25 × 12 A = 15 A, at the limit
        ("2", "12.1 A", True),
        ("3", "5.2 A", True),  # 72.9 V
    ],
)
def test_a_small_portable_array_is_unplugged(series: str, isc: str, fires: bool) -> None:
    plan = edited(
        ("series: 3, mounting: roof-gap", f"series: {series}, mounting: ground, portable: true"),
        ("isc: 5.2 A", f"isc: {isc}"),
        plan=NONE,
    )
    assert bool(found(plan, MISSING)) is fires
    fixed = edited(("mounting: ground, portable: true", "mounting: ground"), plan=plan)
    assert found(fixed, MISSING)


def test_a_fuse_does_not_count_and_a_breaker_does() -> None:
    sheet = "{rating: 30 A, voltage: 150 V, dc: true}"
    switch = "{rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}"
    breaker = edited(
        (f"switches:\n  pv-off: {switch}", f"breakers:\n  pv-off: {sheet}"), plan=ARRAY
    )
    assert not found(breaker, MISSING)
    fuse = edited(
        (f"switches:\n  pv-off: {switch}\n", ""),
        ("fuses:\n", f"fuses:\n  pv-off: {sheet}\n"),
        plan=ARRAY,
    )
    assert found(fuse, MISSING)


TWO = edited(
    ("  roof-string: {module: rigid-100, series: 3, mounting: roof-gap, place: roof}\n",
     "  port: {module: rigid-100, series: 3, mounting: roof-gap}\n"
     "  star: {module: rigid-100, series: 3, mounting: roof-gap}\n"
     "combiners: {joint: {joins: [port, star], rating: 30 A, voltage: 600 V}}\n"),
    ("  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, "
     "place: [roof, cabin],\n             inline: [pv-off]}\n",
     "  port-lead: {from: port, to: joint, cable: pv-10, length: 1 m, inline: [pv-off]}\n"
     "  star-lead: {from: star, to: joint, cable: pv-10, length: 1 mINLINE}\n"
     "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"),
    plan=ARRAY,
)  # fmt: skip
"""Two strings, of which one has a switch of its own."""


def test_each_string_or_all_together() -> None:
    assert found(TWO.replace("INLINE", ""), MISSING)
    other = TWO.replace("INLINE", ", inline: [star-off]") + (
        "  star-off: {rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}\n"
    )
    assert not found(other, MISSING)


# Both poles of it.

ONE_POLE = edited(("poles: 2", "poles: 1"), plan=ARRAY)
UNSTATED = edited(("poles: 2, ", ""), plan=ARRAY)
BONDED = "bonds: {tie: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}}\nwires:\n"


@pytest.mark.parametrize(
    ("setting", "level"), [("vehicle", "note"), ("boat", "note"), ("cabin", "warning")]
)
def test_a_switch_of_one_pole_by_setting(setting: str, level: str) -> None:
    [finding] = found(edited(("setting: vehicle", f"setting: {setting}"), plan=ONE_POLE), POLE)
    assert (finding.level, finding.certainty) == (level, "computed")
    assert finding.subjects == ("pv-off", "tracker")
    assert "with `pv-off` open, the negative of the array at tracker stays" in finding.message
    assert "up to 81.99 V" in finding.message
    assert "for at least 81.99 V and 6.5 A DC" in finding.remedy
    assert not found(ARRAY, POLE)


def test_poles_that_are_not_stated_leave_it_undecided() -> None:
    [finding] = found(UNSTATED, POLE)
    assert finding.certainty == "undecided"
    assert finding.remedy.startswith("write its `poles`; if it has one, use a switch")


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


# The order of opening.


def test_a_switch_towards_the_battery_and_none_before_the_controller() -> None:
    [finding] = found(STRANDED, STRANDS)
    assert (finding.level, finding.subjects) == ("warning", ("bank-off", "tracker"))
    assert "`bank-off` can take the battery away from `tracker`" in finding.message
    assert not found(STRANDED, MISSING)  # one fault, one story
    assert not found(BOTH, STRANDS)
    [cabin] = found(edited(("setting: vehicle", "setting: cabin"), plan=STRANDED), STRANDS)
    assert cabin.level == "error"


def test_a_second_way_to_a_battery_keeps_the_controller_on() -> None:
    plan = edited(
        ("batteries:\n", "batteries:\n  start: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}\n"),
        ("wires:\n", "wires:\n  other-run: {from: tracker.battery, to: start, cable: batt-8, "
         "length: 1 m}\n"),
        plan=STRANDED,
    )  # fmt: skip
    assert not found(plan, STRANDS)
    assert found(plan, MISSING)


def test_a_small_portable_array_strands_nothing() -> None:
    plan = edited(("series: 3, mounting: roof-gap", "series: 2, mounting: ground, portable: true"),
                  plan=STRANDED)  # fmt: skip
    assert not found(plan, STRANDS)


# Opening under load.


def test_an_isolator_on_the_array_side_is_an_error_and_elsewhere_a_warning() -> None:
    [finding] = found(edited(("load_break: true", "load_break: false"), plan=SWITCHED), LOAD)
    assert (finding.level, finding.subjects) == ("error", ("pv-off",))
    assert "6.5 A at up to 81.99 V flows in it" in finding.message
    assert "at least 7 A at up to 81.99 V DC" in finding.remedy
    battery = edited(("poles: 1, load_break: true", "poles: 1, load_break: false"), plan=BOTH)
    [finding] = found(battery, LOAD)
    assert (finding.level, finding.subjects) == ("warning", ("bank-off",))


def test_what_is_not_stated_is_silent() -> None:
    assert not found(edited((", load_break: true", ""), plan=SWITCHED), LOAD)


@pytest.mark.parametrize(
    ("rating", "fires"),
    [("6.5 A", False), ("6.4 A", True), ("6.6 A", False)],  # 1.25 × 5.2 A
)
def test_the_rating_of_a_switch(rating: str, fires: bool) -> None:
    plan = edited(("pv-off: {rating: 30 A", f"pv-off: {{rating: {rating}"), plan=SWITCHED)
    findings = found(plan, LOAD)
    assert [f.level for f in findings] == (["error"] if fires else [])
    if fires:
        assert findings[0].message == "`pv-off` carries 6.5 A and is rated 6.4 A"
        assert findings[0].margin == pytest.approx(1 - 6.5 / 6.4)
        assert "rated at least 7 A" in findings[0].remedy


def test_a_switch_for_alternating_current_is_told_by_another_rule() -> None:
    plan = edited(
        ("dc: true, poles: 2, load_break: true", "dc: false, poles: 2, load_break: false"),
        plan=SWITCHED,
    )
    assert not found(plan, LOAD)
