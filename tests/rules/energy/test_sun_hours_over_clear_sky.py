"""Declared sun hours against what a clear sky gives at the latitude."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels
from wattproof.physics import clear_sky

SUN = "sun-hours-over-clear-sky"


def test_sun_hours_by_hand() -> None:
    """On the level at 30°, a quarter over the clearest air."""
    [finding] = found(faulty(SUN), SUN)
    air = clear_sky.CLEAREST_AIR
    most = 1.25 * max(clear_sky.sun_hours(30.0, m, 0.0, 0.0, air) for m in (6, 7, 8))
    assert f"more than {int(most * 10) / 10:g} h there if they lie level" in finding.message
    assert finding.remedy.endswith("if they are raised, tell their `tilt` and `facing`")
    assert finding.level == "warning"
    assert finding.place.line == faulty(SUN)[: faulty(SUN).index("summer: 13 h")].count("\n") + 1


@pytest.mark.parametrize(
    "edit",
    [
        ("summer: 13 h", "summer: 10 h"),
        ("latitude: 30°, ", ""),
        ("winter: 1.5 h, summer: 13 h", "trip: 13 h"),  # nobody knows when
    ],
)
def test_sun_hours_within_reach_or_unknown(edit: tuple[str, str]) -> None:
    plan = edited(edit, plan=faulty(SUN))
    assert not found(edited(("{winter: 3 h, summer: 8 h}", "3 h"), plan=plan), SUN)


def test_a_stated_plane_has_its_own_limit() -> None:
    """2.5 h in December at 52° are possible on raised modules and not on level ones.

    Where nobody told, those on the roof of a van lie level; those on a rack may be raised.
    """
    plan = edited(
        ("latitude: 30°", "latitude: 52°"),
        ("winter: 1.5 h, summer: 13 h", "december: 2.5 h"),
        ("{winter: 3 h, summer: 8 h}", "3 h"),
        plan=faulty(SUN),
    )
    assert levels(plan, SUN) == ["warning"]
    assert not found(edited(("mounting: roof-gap", "mounting: open-rack"), plan=plan), SUN)
    roof = edited(("setting: vehicle", "setting: cabin"), plan=plan)
    assert not found(roof, SUN)
    level = edited(("mounting: roof-gap", "mounting: roof-gap, tilt: 0°"), plan=plan)
    assert levels(level, SUN) == ["warning"]
    raised = edited(("tilt: 0°", "tilt: 70°, facing: south"), plan=level)
    assert not found(raised, SUN)
    away = edited(("facing: south", "facing: north"), plan=raised)
    assert levels(away, SUN) == ["warning"]


def test_height_above_the_sea_counts() -> None:
    """At 36° a level module gets more on a clear June day at 3000 m than at the sea."""
    low, high = (
        clear_sky.sun_hours(36.0, 6, 0.0, 0.0, clear_sky.CLEAREST_AIR, height)
        for height in (0.0, 3000.0)
    )
    hours = 1.15 * (low + high) / 2.0
    plan = edited(
        ("latitude: 30°", "latitude: 36°, height: 0 m"),
        ("winter: 1.5 h, summer: 13 h", f"june: {hours:.2f} h"),
        ("{winter: 3 h, summer: 8 h}", "3 h"),
        plan=faulty(SUN),
    )
    assert levels(plan, SUN) == ["warning"]
    assert not found(edited(("height: 0 m", "height: 3000 m"), plan=plan), SUN)


@pytest.mark.parametrize(
    ("latitude", "month", "hours"),
    [("62.5°", "december", 0.130), ("64.8°", "january", 0.154), ("64.8°", "december", 0.046)],
)
def test_published_months_near_the_polar_circle_are_possible(
    latitude: str, month: str, hours: float
) -> None:
    """Monthly means of CWEC and TMY3 files; see tests/external/test_published_months.py."""
    plan = edited(
        ("latitude: 30°", f"latitude: {latitude}"),
        ("winter: 1.5 h, summer: 13 h", f"{month}: {hours} h"),
        ("{winter: 3 h, summer: 8 h}", "3 h"),
        plan=faulty(SUN),
    )
    assert not found(plan, SUN)
