"""What an inverter takes for itself in a day against all that is used."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

IDLE = "inverter-idle"


@pytest.mark.parametrize(("hours", "expected"), [("2.1 h", []), ("2.2 h", ["note"])])
def test_idle_energy(hours: str, expected: list[str]) -> None:
    """0.15 / 0.85 × 120.3 Wh / 10 W = 2.12 h."""
    plan = edited(("switched_on: 1 h", f"switched_on: {hours}"), plan=sound(IDLE))
    assert levels(plan, IDLE) == expected


def test_idle_numbers_and_remedy() -> None:
    [finding] = found(faulty(IDLE), IDLE)
    assert finding.message == (
        "`mains` takes 240 Wh a day for itself in summer, 66.6 % of all that is used"
    )
    [hours] = re.findall(r"switched_on: ([0-9.]+ h)", finding.remedy)
    assert hours == "2.1 h"
    [[change]] = finding.ways
    assert str(change) == "`switched_on: 2.1 h` for the use of `mains`"
    mended = edited(("switched_on: 24 h", f"switched_on: {hours}"), plan=faulty(IDLE))
    assert not found(mended, IDLE)


def test_an_inverter_that_says_nothing_is_taken_as_always_on() -> None:
    """1 % of 300 W for 24 h are 72 Wh, a third and more of the use."""
    plan = edited((", switched_on: 1 h", ""), (", idle_power: 10 W", ""), plan=sound(IDLE))
    [finding] = found(plan, IDLE)
    assert finding.verdict == "likely"
    assert "`mains` takes 72 Wh a day" in finding.message


def test_an_inverter_that_nothing_runs_on() -> None:
    plan = edited(("energy: 100 Wh, switched_on: 1 h", "switched_on: 24 h"), plan=sound(IDLE))
    [finding] = found(plan, IDLE)
    assert "switch it on at most 0.1 h a day" in finding.remedy
