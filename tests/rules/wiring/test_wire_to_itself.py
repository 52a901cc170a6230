"""Wires whose two ends are one and the same."""

from __future__ import annotations

import pytest

from found import found_alone
from plans import BASE
from rule_runs import RULES, faulty, found, sound

LOOP = "wire-to-itself"


def test_one_pole_of_a_battery() -> None:
    assert not found(sound(LOOP), LOOP)
    [finding] = found(faulty(LOOP), LOOP)
    assert finding.level == "warning"
    assert finding.message == "both ends of `body-tie` are `house.negative`: it joins nothing"
    assert finding.subjects == ("body-tie",)


@pytest.mark.parametrize("end", ["house", "tracker.battery", "house.positive"])
def test_both_poles_and_a_fuse_in_it(end: str) -> None:
    more = "breakers:\n  spare: {rating: 60 A, dc: true}\nwires:\n"
    loop = f"  loop: {{from: {end}, to: {end}, cable: batt-8, length: 1 m, inline: [spare]}}\n"
    [finding] = found(BASE.replace("\nwires:\n", f"\n{more}{loop}"), LOOP)
    assert finding.subjects == ("loop", "spare")
    assert finding.message.endswith("it joins nothing, and `spare` in it does nothing")


def test_both_ends_at_one_switch_that_stands_by_itself() -> None:
    """Its two sides are told apart by the wires that name it, and this one names it twice."""
    more = "switches:\n  relay: {rating: 60 A, dc: true}\nwires:\n"
    loop = "  loop: {from: relay, to: relay, cable: batt-8, length: 1 m, pole: positive}\n"
    [finding] = found(BASE.replace("\nwires:\n", f"\n{more}{loop}"), LOOP)
    assert finding.message == "both ends of `loop` are `relay`: it joins nothing"


def test_one_pole_of_two_components_is_no_loop() -> None:
    loop = (
        "  loop: {from: house.positive, to: tracker.battery.positive, cable: batt-8, length: 1 m}\n"
    )
    assert not found(BASE.replace("\nwires:\n", f"\nwires:\n{loop}"), LOOP)


@pytest.mark.parametrize(
    ("family", "draws"),
    [
        ("loads", "power: 3 W, nominal: 12 V"),
        ("loads", "current: 1 A"),
        ("inverters", "power: 500 W"),
    ],
)
def test_a_consumer_wired_to_itself_leaves_the_rest_checked(family: str, draws: str) -> None:
    more = f"{family}:\n  lonely: {{{draws}}}\nwires:\n"
    loop = "  loop: {from: lonely, to: lonely, cable: batt-8, length: 1 m}\n"
    plan = BASE.replace("\nwires:\n", f"\n{more}{loop}")
    result = found_alone("plan.yaml", plan, RULES)
    assert not result.failed
    assert {"wire-to-itself", "consumer-not-fed"} <= {f.rule for f in result.each}
