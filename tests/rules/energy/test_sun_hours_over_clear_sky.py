"""Declared sun hours against what a clear sky gives at the latitude."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels
from wattproof.physics import clear_sky

SUN = "sun-hours-over-clear-sky"


def test_sun_hours_by_hand() -> None:
    """On the best plane at 30°, a quarter over the clearest air."""
    [finding] = found(faulty(SUN), SUN)
    most = 1.25 * max(clear_sky.best_tilt(30.0, m, clear_sky.CLEAREST_AIR)[1] for m in (6, 7, 8))
    assert f"no sky gives it more than {int(most * 10) / 10:g} h there" in finding.message
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
    """2.5 h in December at 52° are possible on raised modules and not on level ones."""
    plan = edited(
        ("latitude: 30°", "latitude: 52°"),
        ("winter: 1.5 h, summer: 13 h", "december: 2.5 h"),
        ("{winter: 3 h, summer: 8 h}", "3 h"),
        plan=faulty(SUN),
    )
    assert not found(plan, SUN)
    level = edited(("mounting: roof-gap", "mounting: roof-gap, tilt: 0°"), plan=plan)
    assert levels(level, SUN) == ["warning"]
    raised = edited(("tilt: 0°", "tilt: 70°, facing: south"), plan=level)
    assert not found(raised, SUN)
    away = edited(("facing: south", "facing: north"), plan=raised)
    assert levels(away, SUN) == ["warning"]
