"""Sun that modules lose by lying level where the winter sun is low."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels
from wattproof.physics import clear_sky
from wattproof.testing import check_remedy

LYING = "flat-winter-loss"


def test_loss_of_level_modules_by_hand() -> None:
    [finding] = found(faulty(LYING), LYING)
    level, (best, hours) = clear_sky.sun_hours(47.0, 12, 0.0, 0.0), clear_sky.best_tilt(47.0, 12)
    loss = 1 - level / hours
    assert f"loses {loss * 100:.1f} % of a clear day's sun" in finding.message
    assert f"by about {best:g}°" in finding.remedy
    assert (finding.level, finding.verdict) == ("note", "certain")


@pytest.mark.parametrize(
    ("latitude", "expected"), [("30°", []), ("36°", []), ("38°", ["note"]), ("-47°", ["note"])]
)
def test_loss_grows_with_latitude(latitude: str, expected: list[str]) -> None:
    plan = edited(("latitude: 47°", f"latitude: {latitude}"), plan=faulty(LYING))
    assert levels(plan, LYING) == expected


@pytest.mark.parametrize(("latitude", "facing"), [("47°", "south"), ("-47°", "north")])
def test_strings_that_lie_alike_are_told_once_and_raised_to_the_noon_sun(
    latitude: str, facing: str
) -> None:
    end = "tilt: 0°}\nswitches:"
    shed = "  shed: {module: rigid-100, series: 2, mounting: open-rack, tilt: 0°}\n"
    joint = "combiners:\n  joint: {joins: [roof-string, shed], rating: 30 A, voltage: 600 V}\n"
    plan = edited(
        (end, f"tilt: 0°}}\n{shed}{joint}switches:"),
        ("home-run: {from: roof-string", "home-run: {from: joint"),
        ("latitude: 47°", f"latitude: {latitude}"),
        plan=faulty(LYING),
    )
    [finding] = found(plan, LYING, tried=True)
    assert "`roof-string` and `shed` each lose 63." in finding.message
    [way] = finding.ways
    assert [str(change) for change in way][:2] == [
        "`tilt: 70°` for `roof-string`",
        f"`facing: {facing}` for `roof-string`",
    ]
    check_remedy(finding)


def test_only_winter_counts_and_an_unstated_tilt_is_level() -> None:
    summer = edited(
        ("{winter: 1.5 h, summer: 5 h}", "{summer: 5 h}"),
        ("{winter: 3 h, summer: 8 h}", "8 h"),
        plan=faulty(LYING),
    )
    assert not found(summer, LYING)
    unstated = edited((",\n                tilt: 0°", ""), plan=faulty(LYING))
    [finding] = found(unstated, LYING)
    assert finding.verdict == "likely"
    assert not found(faulty(LYING).replace("latitude: 47°, ", ""), LYING)


def test_where_the_sun_does_not_rise_raising_gains_nothing() -> None:
    assert not found(edited(("latitude: 47°", "latitude: 72°"), plan=faulty(LYING)), LYING)
