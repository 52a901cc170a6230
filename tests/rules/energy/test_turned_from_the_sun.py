"""Raised modules that look away from the noon sun."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound
from wattproof.testing import check_remedy

AWAY = "turned-from-the-sun"


def facing(latitude: str, where: str, tilt: str = "40°") -> str:
    return edited(
        ("latitude: 47°", f"latitude: {latitude}"),
        ("facing: south", f"facing: {where}"),
        ("tilt: 40°", f"tilt: {tilt}"),
        plan=sound(AWAY),
    )


def test_the_noon_sun_of_the_north_stands_in_the_south() -> None:
    [finding] = found(faulty(AWAY), AWAY, tried=True)
    assert finding.message.startswith("`roof-string` faces north and loses ")
    assert "against facing south" in finding.message
    assert finding.level == "note"
    check_remedy(finding)


@pytest.mark.parametrize(
    ("latitude", "where", "told"),
    [
        ("-38°", "south", True),
        ("-38°", "north", False),
        ("38°", "south-east", False),
        ("38°", "east", False),  # common practice: about a fifth at 40° of tilt
        ("38°", "north-east", True),
        ("5°", "north", False),  # the noon sun stands overhead, in turn on either side
    ],
)
def test_by_hemisphere_and_side(latitude: str, where: str, told: bool) -> None:
    assert bool(found(facing(latitude, where), AWAY)) is told


def test_what_lies_almost_level_looks_nowhere() -> None:
    assert not found(facing("47°", "north", "10°"), AWAY)


def test_a_side_that_nobody_told_is_the_sunny_one() -> None:
    assert not found(edited((", facing: south", ", facing: unknown"), plan=sound(AWAY)), AWAY)
