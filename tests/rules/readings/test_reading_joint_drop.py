"""What a fuse, a switch or a joint drops and how warm it is, under load."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.readings.plans import read, strings

JOINT = "reading-joint-drop"
MISSING = "reading-conditions-missing"


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        # The charge fuse carries 20 A: 100 mV at 10 A are 200 mV.
        ("drop: 100 mV, current: 10 A", None),
        ("drop: 101 mV, current: 10 A", JOINT),
        ("drop: 0.11 V, current: 10 A", JOINT),
        ("drop: 0.1 V, current: 10 A", None),
        ("drop: 200 mV, current: 20 A", None),
        ("drop: 205 mV, current: 25 A", JOINT),
        # Rise with the square: 12.5 K at half the current are 50 K.
        ("joint_temperature: 37.5 °C, air_temperature: 25 °C, current: 10 A", None),
        ("joint_temperature: 37.6 °C, air_temperature: 25 °C, current: 10 A", JOINT),
        # Under a quarter of the load, or without it, nothing is multiplied.
        ("drop: 90 mV, current: 4 A", MISSING),
        ("drop: 90 mV", MISSING),
        ("drop: 90 mV, current: 5 A", JOINT),
        # A thermometer's error grows with the square, so heat needs half the load.
        ("joint_temperature: 30 °C, air_temperature: 25 °C, current: 9.9 A", MISSING),
        ("joint_temperature: 30 °C, air_temperature: 25 °C, current: 10 A", None),
    ],
)
def test_drop_and_heat_at_full_load(text: str, rule: str | None) -> None:
    plan = read(f"at: charge-fuse, {text}")
    assert [r for r in (JOINT, MISSING) if found(plan, r)] == ([rule] if rule else [])


def test_a_drop_that_is_large_anyhow_needs_no_current() -> None:
    (finding,) = found(read("at: charge-fuse, drop: 300 mV"), JOINT)
    assert "as read" in finding.message


def test_heat_by_hand() -> None:
    (finding,) = found(read("at: charge-fuse, drop: 150 mV, current: 10 A"), JOINT)
    assert finding.values[0].number == pytest.approx(2 * 0.1495)
    assert finding.values[2].number == pytest.approx(2 * 0.1495 * 20)
    assert "20 A, reckoned from 10 A" in finding.message


@pytest.mark.parametrize(
    ("surface", "sunny", "is_told"),
    [
        ("75 °C", False, False),
        ("75.1 °C", False, True),
        ("100 °C", True, False),
        ("100.1 °C", True, True),
    ],
)
def test_what_the_sun_heats_is_no_sign_of_a_bad_joint(
    surface: str, sunny: bool, is_told: bool
) -> None:
    """A fuse in the sun may be 25 K over the air by that alone, and 50 K by its load."""
    plan = edited(
        ("cabin: {ambient: 35 °C", f"cabin: {{ambient: 35 °C, sunlight: {str(sunny).lower()}")
    )
    text = f"at: charge-fuse, joint_temperature: {surface}, air_temperature: 25 °C, current: 20 A"
    findings = found(read(text, plan=plan), JOINT)
    assert bool(findings) is is_told
    assert all(("and the sun make it" in f.message) is sunny for f in findings)


@pytest.mark.parametrize(("drop", "is_told"), [("100 mV", False), ("101 mV", True)])
def test_a_joint_has_no_element_and_drops_less(drop: str, is_told: bool) -> None:
    """Two strings at 4.9 A each are 9.8 A."""
    plan = read(f"at: roof-joint, drop: {drop}, current: 9.8 A", plan=strings(2))
    assert bool(found(plan, JOINT)) is is_told


def test_nor_is_the_fuse_after_it() -> None:
    """100 mV at 12 A are 195 mV at 23.4 A, and would be 0.8 V at 100 A."""
    large = edited(("max_output_current: 20 A", "max_output_current: 100 A"))
    assert not found(read("at: charge-fuse, drop: 100 mV, current: 12 A", plan=large), JOINT)
    (hot,) = found(read("at: charge-fuse, drop: 110 mV, current: 12 A", plan=large), JOINT)
    assert "at its full 23.4 A" in hot.message


@pytest.mark.parametrize(
    ("device", "remedy"),
    [
        ("fuses:\n  charge-fuse: {rating: 40 A}\n", "the fuse or its holder"),
        ("breakers:\n  charge-fuse: {rating: 40 A}\n", "the breaker"),
        ("switches:\n  charge-fuse: {rating: 40 A}\n", "the switch"),
    ],
)
def test_what_stays_warm_is_replaced(device: str, remedy: str) -> None:
    fuse = (
        "fuses:\n  charge-fuse: {rating: 40 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, "
        "dc: true}\n"
    )
    plan = read("at: charge-fuse, drop: 600 mV, current: 10 A", plan=edited((fuse, device)))
    plan = plan.replace("{charge-fuse: {from_end: to, distance: 10 cm}}", "charge-fuse")
    (finding,) = found(plan, JOINT)
    assert finding.remedy.endswith(f"; replace {remedy} if it stays")


@pytest.mark.parametrize(
    ("text", "said", "level"),
    [
        ("at: charge-fuse, drop: 13.1 V, current: 0 A", "it is blown", "warning"),
        ("at: charge-fuse, drop: 13.1 V", "if the meter showed 13.1 mV", "warning"),
        ("at: array-off, drop: 61 V, current: 0.1 A", "it is off, or a contact", "note"),
        ("at: charge-fuse, drop: 0.3 V, current: 0 A", "drops at least", "warning"),
    ],
)
def test_a_device_with_much_over_it_and_no_current_is_open(
    text: str, said: str, level: str
) -> None:
    plan = edited(
        ("place: [roof, cabin]}", "place: [roof, cabin], inline: [array-off]}"),
        ("fuses:\n", "switches:\n  array-off: {rating: 32 A, voltage: 250 V, dc: true}\nfuses:\n"),
    )
    (finding,) = found(read(text, plan=plan), JOINT)
    assert said in finding.message
    assert finding.level == level
    if "drops" not in said:
        assert "heat" not in finding.message
        assert not found(read(text, plan=plan), MISSING)


@pytest.mark.parametrize(
    ("degrees", "current", "told"),
    [
        (
            "71 °C",
            "7 A",
            True,
        ),  # 44 K at 7 of 20 A: 111 K by the current alone, 359 K by its square
        ("47 °C", "7 A", False),  # 20 K: 43 K by the current alone
        ("71 °C", "4 A", False),  # too little to tell anything by
    ],
)
def test_a_joint_that_part_of_the_load_makes_hot_is_told(
    degrees: str, current: str, told: bool
) -> None:
    """It was asked to be read at more, and at full load it burns."""
    at = f"at: charge-fuse, joint_temperature: {degrees}, air_temperature: 27 °C"
    plan = read(f"{at}, current: {current}")
    findings = found(plan, JOINT)
    assert bool(findings) is told
    assert all("at its full 20 A at least, reckoned from 7 A" in f.message for f in findings)
    assert bool(found(plan, MISSING)) is not told
