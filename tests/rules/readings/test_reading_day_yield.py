"""The yield of a whole day against what the sky can bring on that day."""

from __future__ import annotations

import pytest

from plans import BASE, edited
from rule_runs import faulty, found, levels, sound
from rules.readings.plans import read
from wattproof.physics import clear_sky
from wattproof.plan import load_plan
from wattproof.source import PlanUnusable
from wattproof.study.assumptions.energy import BRIGHTEST_DAY
from wattproof.testing import study_of

DAY = "reading-day-yield"
MISSING = "reading-conditions-missing"
FLAT = edited(
    ("  hottest: 40 °C\n", "  hottest: 40 °C\n  latitude: 47°\n  height: 400 m\n"),
    ("mounting: roof-gap", "mounting: roof-gap, tilt: 0°"),
    ("output_current: 20 A", "output_current: 30 A"),
    plan=BASE,
)
"""300 W that lie level at 47°."""


def day(shown: str, beside: str = "date: 2026-06-21, sky: clear, stage: bulk") -> str:
    return read(f"at: tracker.battery, day_yield: {shown}, {beside}", plan=FLAT)


def test_the_most_by_hand() -> None:
    """15 % for snow and cold cells, 5 % of the label, the clearest air."""
    [reading] = study_of(day("2 kWh")).readings.of_days
    hours = clear_sky.day_hours(47.0, 172, 0.0, 180.0, clear_sky.CLEAREST_AIR, 400.0)
    power = reading.array.power("standard").number
    assert reading.most is not None
    assert reading.most.number == pytest.approx(power * hours * 3600.0 * 1.15 * 1.05)


@pytest.mark.parametrize(
    ("shown", "level"),
    [
        ("20 kWh", "warning"),
        ("4 kWh", "warning"),
        ("2.2 kWh", ""),
        ("1.4 kWh", ""),
        ("0.6 kWh", "note"),
        ("0 Wh", "note"),
    ],
)
def test_a_clear_midsummer_day_of_300_watts(shown: str, level: str) -> None:
    """Common practice: 300 W × 7.5 h × 0.7 to 0.8 are 1.6 to 1.8 kWh."""
    assert levels(day(shown), DAY) == ([level] if level else [])


@pytest.mark.parametrize(
    "beside",
    [
        "date: 2026-06-21",  # clouds, for all that is told
        "date: 2026-06-21, sky: clear",  # the battery may have been full
        "date: 2026-06-21, sky: clear, stage: float",
    ],
)
def test_little_is_only_told_of_a_clear_day_that_the_battery_took(beside: str) -> None:
    assert not found(day("0.2 kWh", beside), DAY)


def test_too_much_is_told_whatever_the_sky() -> None:
    for beside in ("date: 2026-06-21", "stage: float", "date: 2026-12-21"):
        assert levels(day("9 kWh", beside), DAY) == ["warning"]
    assert levels(day("1.9 kWh", "date: 2026-12-21"), DAY) == ["warning"]


def test_an_untold_plane_may_be_the_best_and_an_unknown_latitude_any() -> None:
    assert not found(sound(DAY), DAY)
    [finding] = found(faulty(DAY), DAY)
    assert "no sky gives its array more than" in finding.message
    assert finding.subjects == ("midsummer", "tracker", "roof-string")
    [finding] = found(edited(("latitude: 47°, ", ""), plan=faulty(DAY)), DAY)
    assert "anywhere on earth" in finding.message


@pytest.mark.parametrize(("shown", "told"), [("4.3 kWh", False), ("4.5 kWh", True)])
def test_the_most_anywhere_on_earth_by_hand(shown: str, told: bool) -> None:
    """300 W × 12 h × 1.15 × 1.05: 4.347 kWh."""
    plan = edited(("  latitude: 47°\n  height: 400 m\n", ""), plan=day(shown, "stage: bulk"))
    assert bool(found(plan, DAY)) is told


def test_no_place_has_a_brighter_day() -> None:
    brightest = max(
        clear_sky.day_hours(here, day, tilt, 180.0, clear_sky.CLEAREST_AIR, 5000.0)
        for here in range(0, 91, 10)
        for day in (172, *clear_sky.MIDDLE_DAYS)
        for tilt in range(0, 91, 15)
    )
    assert 0.95 * BRIGHTEST_DAY.value < brightest <= BRIGHTEST_DAY.value


@pytest.mark.parametrize(
    ("shown", "beside", "lacks"),
    [
        ("0.6 kWh", "date: 2026-06-21, sky: clear", "`stage: bulk`, so"),
        ("1.6 kWh", "date: 2026-06-21, sky: clear", ""),
        ("0.6 kWh", "date: 2026-06-21, sky: clear, stage: bulk", ""),
        ("0.6 kWh", "date: 2026-06-21, stage: bulk", ""),
    ],
)
def test_a_clear_day_that_lacks_something_is_no_pass(shown: str, beside: str, lacks: str) -> None:
    findings = found(day(shown, beside), MISSING)
    assert [lacks in f.message for f in findings] == ([True] if lacks else [])


@pytest.mark.parametrize(("shown", "told"), [("0.6 kWh", True), ("1.6 kWh", False)])
def test_an_untold_tilt_leaves_little_open(shown: str, told: bool) -> None:
    plan = edited((", tilt: 0°", ""), plan=day(shown))
    assert any("`tilt`, so too little" in f.message for f in found(plan, MISSING)) is told
    assert not found(plan, DAY)


def test_a_small_controller_clips_a_clear_day() -> None:
    small = edited(("output_current: 30 A", "output_current: 10 A"), plan=day("0.6 kWh"))
    assert not found(small, DAY)


@pytest.mark.parametrize(
    ("reading", "message"),
    [
        ("at: roof-string, day_yield: 1 kWh", "is not read at"),
        ("at: tracker.pv, day_yield: 1 kWh, sky: clear", "depends on the day"),
        ("at: tracker.pv, day_yield: 12 V", "12 V"),
    ],
)
def test_mistakes(reading: str, message: str) -> None:
    with pytest.raises(PlanUnusable) as unusable:
        load_plan("plan.yaml", text=read(reading, plan=FLAT))
    assert any(message in problem.message for problem in unusable.value.problems)


def test_watt_hours_that_were_kilowatt_hours() -> None:
    (finding,) = found(day("1.5 Wh"), DAY)
    assert "; 1500 Wh would be right, so the unit was misread" in finding.message
