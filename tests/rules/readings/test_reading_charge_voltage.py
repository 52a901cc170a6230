"""Voltage at the controller against that at the posts of its battery while it charges."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.readings.plans import EXACT, read
from wattproof.testing import study_of

CHARGE = "reading-charge-voltage"
MISSING = "reading-conditions-missing"


def test_a_reversed_post_is_no_loss_on_the_way() -> None:
    plan = read("at: tracker.battery, voltage: 14.2 V, posts_voltage: -13.9 V, current: 20 A")
    assert not found(plan, CHARGE)


@pytest.mark.parametrize(
    ("posts", "current", "rule"),
    [
        ("13.99 V", "20 A", None),
        ("13.98 V", "20 A", CHARGE),
        ("14.09 V", "10 A", None),
        ("14.08 V", "10 A", CHARGE),
        ("14.15 V", "3 A", MISSING),
        ("13.9 V", "20 A", CHARGE),
        ("14.0 V", "20 A", None),  # the last digits may hide half of it
    ],
)
def test_voltage_lost_on_the_way(posts: str, current: str, rule: str | None) -> None:
    """0.2 V at the full 20 A; less current is taken to it, last digits off."""
    plan = read(
        f"at: tracker.battery, voltage: 14.20 V, posts_voltage: {posts}, current: {current}"
    )
    assert [r for r in (CHARGE, MISSING) if found(plan, r)] == ([rule] if rule else [])


@pytest.mark.parametrize(("posts", "rule"), [("14.07 V", None), ("13.98 V", CHARGE)])
def test_a_controller_larger_than_its_array_is_never_at_its_rating(
    posts: str, rule: str | None
) -> None:
    """0.1 V at 12 A; the array gives 299.9 W, 23.4 A, and not the 100 A of the controller."""
    large = edited(("max_output_current: 20 A", "max_output_current: 100 A"))
    text = f"at: tracker.battery, voltage: 14.18 V, posts_voltage: {posts}, current: 12 A"
    plan = read(text, plan=large)
    assert [r for r in (CHARGE, MISSING) if found(plan, r)] == ([rule] if rule else [])


def test_a_bank_of_twice_the_voltage_may_lose_twice_as_much() -> None:
    plan = read(
        "at: tracker.battery, voltage: 28.20 V, posts_voltage: 27.85 V, current: 20 A",
        plan=edited(
            ("nominal: 12.8 V", "nominal: 25.6 V"),
            ("max_charge_voltage: 14.6 V", "max_charge_voltage: 29.2 V"),
            ("charge_voltage: 14.2 V,", "charge_voltage: 28.4 V,"),
        ),
    )
    assert not found(plan, CHARGE)
    assert found(plan.replace("27.85 V", "27.78 V"), CHARGE)


def test_joints_are_blamed_where_the_wires_do_not_explain_it() -> None:
    lost = "at: tracker.battery, voltage: 14.20 V, posts_voltage: 13.80 V, current: 20 A"
    (finding,) = found(read(lost), CHARGE)
    assert "a joint takes what the wires do not" in finding.remedy


def test_the_size_of_the_remedy_brings_the_wires_within_the_limit() -> None:
    lost = "at: tracker.battery, voltage: 14.20 V, posts_voltage: 13.80 V, current: 20 A"
    plan = read(lost, plan=edited(("length: 1 m", "length: 4 m")))
    (finding,) = found(plan, CHARGE)
    size = re.search(r"use ([\d/]+ AWG) for `charge-run`", finding.remedy)
    assert size
    better = plan.replace("batt-8: {size: 8 AWG", f"batt-8: {{size: {size[1]}")
    [reading] = study_of(better).readings.of_charging
    assert reading.by_wires is not None
    assert reading.by_wires.number <= 0.2


@pytest.mark.parametrize(
    ("volts", "current", "parted"),
    [
        ("19.5 V", "", True),
        ("19.5 V", ", current: 0.0 A", True),
        ("15.0 V", ", current: 12 A", False),  # a joint that is bad, and warm
        ("13.6 V", "", False),
    ],
)
def test_what_gives_its_own_voltage_is_not_joined_to_its_battery(
    volts: str, current: str, parted: bool
) -> None:
    """With the fuse open what the array gives stands at the controller, and no setting does it."""
    text = read(f"at: tracker.battery, voltage: {volts}, posts_voltage: 12.9 V{current}, {EXACT}")
    (finding,) = (f for f in found(text, CHARGE) if f.level == "warning")
    assert ("a lead is off" in finding.message) is parted
    assert finding.remedy.startswith("part the array") is parted
    assert bool(found(text, "reading-over-setting")) is (not parted and volts == "15.0 V")


@pytest.mark.parametrize(
    ("posts", "told"), [("13.98 V", True), ("14.05 V", False), ("12.9 V, taken: later", False)]
)
def test_posts_that_were_read_by_themselves_at_that_moment_are_the_other_end(
    posts: str, told: bool
) -> None:
    at = "at: tracker.battery, voltage: 14.20 V, current: 20 A, taken: noon"
    beside = f"at: house, voltage: {posts}" + ("" if "taken" in posts else ", taken: noon")
    findings = found(read(at, beside), CHARGE)
    assert bool(findings) is told
    assert bool(found(read(beside, at), CHARGE)) is told
    assert all("between `tracker` and the posts of `house`" in f.message for f in findings)


@pytest.mark.parametrize(
    ("posts", "hazard"),
    [
        ("13.90 V", "lost-energy"),  # 0.3 V x 20 A, less what the wires lose
        ("13.20 V", "fire"),
        ("12.20 V", "fire"),
    ],
)
def test_a_joint_that_takes_ten_watts_and_more_can_burn(posts: str, hazard: str) -> None:
    """1 V at 20 A are 20 W in one fuse holder or lug, as in a plug on the way to the controller."""
    plan = read(f"at: tracker.battery, voltage: 14.20 V, posts_voltage: {posts}, current: 20 A")
    (finding,) = found(plan, CHARGE)
    assert finding.hazard == hazard
    assert ("of heat is made beside them" in finding.message) is (hazard == "fire")


def test_what_thin_wires_lose_is_no_hot_joint() -> None:
    thin = edited(("batt-8: {size: 8 AWG", "batt-8: {size: 18 AWG"))
    text = "at: tracker.battery, voltage: 14.20 V, posts_voltage: 13.2 V, current: 20 A"
    (finding,) = found(read(text, plan=thin), CHARGE)
    assert finding.hazard == "lost-energy"
