"""Switches in a negative that stays tied to ground when they are open."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import build, faulty, found, levels, sound

TIED = "switch-in-tied-negative"
TIE = "from: house.negative, to: chassis"


def test_the_positive_stays_live() -> None:
    [finding] = found(faulty(TIED), TIED)
    assert (finding.level, finding.hazard) == ("warning", "fire")
    assert finding.subjects == ("pump-off", "chassis-bond", "pump")
    assert "tied to the chassis by `chassis-bond`: the positive stays live" in finding.message
    assert not found(sound(TIED), TIED)


def test_without_a_tie_one_pole_is_as_good_as_the_other() -> None:
    lines = [line for line in faulty(TIED).splitlines() if TIE not in line and line != "bonds:"]
    assert not found("\n".join(lines) + "\n", TIED)


def test_a_main_switch_between_the_battery_and_the_tie_parts_it_from_all() -> None:
    """As in lorries: battery, switch, chassis."""
    plan = edited(
        (TIE, "from: minus-bar.negative, to: chassis"),
        (
            "to: house.negative, cable: batt-8, length: 2 m, place: cabin, inline: [pump-off]}",
            "to: minus-bar.negative, cable: batt-8, length: 2 m, place: cabin}\n"
            "  main-minus: {from: minus-bar.negative, to: house.negative, cable: batt-8, "
            "length: 50 cm, place: cabin, inline: [pump-off]}",
        ),
        ("loads:\n", "busbars:\n  minus-bar: {rating: 100 A, voltage: 48 V}\nloads:\n"),
        plan=faulty(TIED),
    )
    assert not found(plan, TIED)


def test_what_opens_by_itself_is_a_note() -> None:
    plan = edited(
        ("poles: 1, load_break: true}", "poles: 1, load_break: true, opens_below: 11 V}"),
        plan=faulty(TIED),
    )
    assert levels(plan, TIED) == ["note"]


def test_a_breaker_in_the_negative_likewise() -> None:
    plan = edited(
        ("switches:\n  pv-off", "switches:\n  pv-off"),
        (
            "  pump-off: {rating: 16 A, voltage: 48 V, dc: true, poles: 1, load_break: true}\n",
            "breakers:\n  pump-off: {rating: 16 A, voltage: 48 V, dc: true, poles: 1}\n",
        ),
        plan=faulty(TIED),
    )
    assert levels(plan, TIED) == ["warning"]


@pytest.mark.parametrize(("pole", "expected"), [("plus", []), ("minus", ["warning"])])
def test_in_a_bank_of_two_in_series(pole: str, expected: list[str]) -> None:
    text = build("trailer-two-in-series")
    if pole == "minus":
        text = edited(
            (", winch-off]", "]"),
            (
                "to: lower.negative, cable: main, length: 2 m, place: box}",
                "to: lower.negative, cable: main, length: 2 m, place: box, inline: [winch-off]}",
            ),
            plan=text,
        )
    assert levels(text, TIED) == expected
