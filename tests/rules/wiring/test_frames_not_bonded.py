"""Frames of modules that nothing ties to earth or chassis."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, faulty, found, levels, sound
from wattproof.testing import check_text


def test_frames_that_a_conductor_ties_are_bonded() -> None:
    plan = edited(("mounting: roof-gap", "mounting: roof-gap, frames_bonded: false"),
                  plan=sound("frame-bond-too-small"))  # fmt: skip
    assert not found(plan, "frames-not-bonded")
    start = plan.index("frame_bonds:")
    assert found(plan[:start] + plan[plan.index("wires:") :], "frames-not-bonded")


FRAMES = "frames-not-bonded"


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


@pytest.mark.parametrize(("series", "asks"), [("4", False), ("5", True)])
def test_above_what_kills_it_is_asked_in_a_cabin(series: str, asks: bool) -> None:
    """Four in series have 109 V in the cold, five 137 V."""
    unsaid = edited(
        (", frames_bonded: false", ""),
        ("series: 3", f"series: {series}"),
        ("max_input_voltage: 100 V", "max_input_voltage: 250 V"),
        plan=faulty(FRAMES),
    )
    assert not found(unsaid, FRAMES)
    assert bool(asked(unsaid, FRAMES)) is asks
    assert not asked(edited(("setting: cabin", "setting: vehicle"), plan=unsaid), FRAMES)


def test_a_string_that_is_left_out_where_others_are_tied() -> None:
    """Of the frames of one string a conductor is told, and of the other nothing."""
    tied = (
        "frame_bonds:\n  west-frames: {strings: [west], to: earth, cable: pv-10}\n"
        "strings:\n  west: {module: rigid-100, series: 3, mounting: open-rack}\n"
    )
    spare = (
        "controllers:\n  spare: {kind: mppt, max_input_voltage: 100 V, max_output_current: 30 A}\n"
    )
    wires = (
        "wires:\n  west-run: {from: west, to: spare.pv, cable: pv-10, length: 4 m}\n"
        "  west-charge: {from: spare.battery, to: house, cable: batt-8, length: 1 m}\n"
    )
    plan = edited(
        (", frames_bonded: false", ""), ("strings:\n", tied), ("controllers:\n", spare),
        ("wires:\n", wires), plan=faulty(FRAMES),
    )  # fmt: skip
    [finding] = found(plan, FRAMES)
    assert finding.level == "error"
    assert "earth or chassis, as those of others are, in an array" in finding.message
    part = plan.replace("setting: cabin", "setting: cabin\ntold: {frame_bonds: part}")
    assert not found(part, FRAMES)
    assert asked(part, FRAMES) == ["frame_bonds not told"]
