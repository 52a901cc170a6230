"""Whether a switch may be opened with the current that flows in it."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, asked, found

STRANDS = "battery-switch-strands-controller"
LOAD = "switch-not-load-break"
BOTH = RULES.rules[STRANDS].sound
SWITCHED = RULES.rules[LOAD].sound


def test_an_isolator_on_the_array_side_is_an_error_and_elsewhere_a_warning() -> None:
    [finding] = found(edited(("load_break: true", "load_break: false"), plan=SWITCHED), LOAD)
    assert (finding.level, finding.subjects) == ("error", ("pv-off",))
    assert "6.5 A at up to 82 V flows in it" in finding.message
    assert "at least 7 A at up to 82 V DC" in finding.remedy
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


HELD = RULES.rules["device-behind-larger-fuse"].sound


@pytest.mark.parametrize(("fuse", "level"), [("70 A", "note"), ("80 A", "error")])
def test_a_switch_whose_fuse_opens_before_it_carries_too_much(fuse: str, level: str) -> None:
    """The inverter draws 80.8 A, which a fuse of 70 A does not let pass for long."""
    relay = "  relay: {rating: 70 A, voltage: 32 V, dc: true, load_break: true}\n"
    plan = edited(
        ("switches:\n", f"switches:\n{relay}"),
        ("bank-fuse: {rating: 125 A", f"bank-fuse: {{rating: {fuse}"),
        ("{bank-fuse: {from_end: from, distance: 10 cm}}",
         "{bank-fuse: {from_end: from, distance: 10 cm}}, relay"),
        plan=HELD,
    )  # fmt: skip
    [finding] = found(plan, LOAD)
    assert finding.level == level
    assert finding.message.endswith("its fuse opens before that") is (level == "note")


SPLIT = """
wattproof: 1
setting: vehicle
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 80 Ah}
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
chargers: {alternator: {kind: alternator}}
switches: {relay: {closes_above: 13.3 V}}
fuses: {one: unknown, other: unknown}
wires:
  charging: {from: alternator, to: start}
  link: {from: start, to: house, inline: [one, relay, other]}
"""


@pytest.mark.parametrize("rule", [LOAD, "fuse-under-load"])
@pytest.mark.parametrize("alternator", ["alternator", "alternator, max_output_current: 120 A"])
def test_a_rating_that_nobody_told_on_a_cable_that_nobody_told_is_asked(
    rule: str, alternator: str
) -> None:
    """What is usual of the cable is a guess on a guess there, and says nothing for sure."""
    plan = SPLIT.replace("kind: alternator", f"kind: {alternator}")
    assert not found(plan, rule)
    assert "rating" in asked(plan, rule)


def test_on_a_cable_that_is_told_it_is_taken_by_that() -> None:
    plan = SPLIT.replace(
        "setting: vehicle", "setting: vehicle\ndatasheets: {cables: {thin: {size: 4 mm2}}}"
    )
    plan = plan.replace("to: house,", "to: house, cable: thin,")
    plan = plan.replace("kind: alternator", "kind: alternator, max_output_current: 120 A")
    assert {f.subjects[0] for f in found(plan, "fuse-under-load")} == {"one", "other"}
