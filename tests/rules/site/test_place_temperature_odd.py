"""Temperatures of places that the climate of the plan contradicts."""

from __future__ import annotations

import pytest

from rule_runs import faulty, found, levels, sound

PLACE = "place-temperature-odd"


def test_hotter_than_the_coldest() -> None:
    [finding] = found(faulty(PLACE), PLACE)
    assert (finding.level, finding.subjects) == ("warning", ("cabin",))
    assert "the hottest air in `cabin` is −30 °C, colder than the coldest of the site, −18 °C" in (
        finding.message.replace("-", "−")
    )


@pytest.mark.parametrize(
    ("told", "fires"),
    [
        ("ambient: -18 °C", False),
        ("ambient: 20 °C", False),  # a cellar
        ("ambient: 35 °C, sunlight: true", False),
        ("ambient: 34 °C, sunlight: true", True),  # 40 °C in the shade
        ("ambient: 34 °C, engine_space: true", True),
        ("ambient: 95 °F, sunlight: true", False),
        ("ambient: 60 °C, coldest: 24 °C", False),
        ("ambient: 60 °C, coldest: 25 °C", True),  # -18 °C outside: 25 °F, as it seems
        ("ambient: 94 °C", False),
        ("ambient: 95 °C", True),  # 95 °F
        ("ambient: 120 °C, engine_space: true", False),
        ("ambient: 60 °C, coldest: 41 °C", True),
        ("ambient: 35 °C, coldest: -18 °C", False),
        ("ambient: 35 °C, coldest: -19 °C", True),  # colder than outside: one of the two is wrong
    ],
)
def test_by_what_a_place_tells(told: str, fires: bool) -> None:
    plan = sound(PLACE, ("cabin: {ambient: 35 °C}", f"cabin: {{{told}}}"))
    assert levels(plan, PLACE) == (["warning"] if fires else [])


def test_what_is_taken_for_the_climate_contradicts_nothing() -> None:
    plan = sound(
        PLACE,
        ("hottest: 40 °C,", ""),
        ("cabin: {ambient: 35 °C}", "cabin: {ambient: 30 °C, sunlight: true}"),
    )
    assert not found(plan, PLACE)
