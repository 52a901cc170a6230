"""Rules on frames of modules and on the way back of alternators: settings, levels, remedies."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, faulty, found, levels
from wattproof.testing import check_examples, check_text

FRAMES = "frames-not-bonded"
RETURN = "alternator-return-missing"


@pytest.mark.parametrize("rule", [FRAMES, RETURN])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# Frames.


@pytest.mark.parametrize(
    ("setting", "series", "expected"),
    [
        ("cabin", "1", ["error"]),
        ("vehicle", "2", ["note"]),
        ("vehicle", "3", ["warning"]),
        ("boat", "1", ["note"]),
        ("boat", "2", ["warning"]),
    ],
)
def test_by_setting_and_voltage(setting: str, series: str, expected: list[str]) -> None:
    """27.33 V a module on the coldest morning: 54.7 V of two, 82 V of three."""
    plan = edited(
        ("setting: cabin", f"setting: {setting}"), ("series: 3", f"series: {series}"),
        plan=faulty(FRAMES),
    )  # fmt: skip
    assert levels(plan, FRAMES) == expected


@pytest.mark.parametrize(("series", "expected"), [("1", ["note"]), ("3", ["error"])])
def test_where_extra_low_voltage_asks_for_no_bond(series: str, expected: list[str]) -> None:
    plan = edited(
        ("code: nec-2023", "code: iec"), ("series: 3", f"series: {series}"), plan=faulty(FRAMES)
    )
    assert levels(plan, FRAMES) == expected


def test_where_nothing_is_said_it_is_listed_and_no_finding() -> None:
    unsaid = edited((", frames_bonded: false", ""), plan=faulty(FRAMES))
    assert not found(unsaid, FRAMES)
    assert "bonding of frames" in {a.key for a in check_text(unsaid).uses}
    vehicle = edited(("setting: cabin", "setting: vehicle"), plan=unsaid)
    assert "bonding of frames" not in {a.key for a in check_text(vehicle).uses}


# Alternators.


def test_a_strap_a_wire_to_the_chassis_or_a_negative_is_a_way_back() -> None:
    [finding] = found(faulty(RETURN), RETURN)
    assert finding.subjects == ("start", "alternator")
    assert "returns up to 90 A through the engine" in finding.message
    body = "  body: {from: start.negative, to: chassis, cable: batt-1-0, length: 1 m}\n"
    assert not found(faulty(RETURN) + body, RETURN)
    back = "  back: {from: start.negative, to: alternator.negative, cable: batt-1-0, length: 1 m}\n"
    assert not found(faulty(RETURN) + back, RETURN)


def test_the_remedy_names_the_ground_of_the_setting() -> None:
    [finding] = found(faulty(RETURN), RETURN)
    assert "`start.negative` to chassis" in finding.remedy
    boat = edited(("setting: vehicle", "setting: boat"), plan=faulty(RETURN))
    assert "`start.negative` to water" in found(boat, RETURN)[0].remedy
