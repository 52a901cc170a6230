"""Air around a controller or an inverter, against that up to which it gives its rating."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

SURGE = "inverter-surge-low"
HOT = "unit-too-hot"


@pytest.mark.parametrize(("limit", "expected"), [("35 °C", []), ("34 °C", ["warning"])])
def test_air_at_and_over_that_of_the_rating(limit: str, expected: list[str]) -> None:
    plan = edited(("derates_above: 40 °C", f"derates_above: {limit}"), plan=sound(HOT))
    assert levels(plan, HOT) == expected


def test_inverters_too_and_silence_where_a_place_is_missing() -> None:
    inverter = edited(
        ("low_voltage: 11 V", "low_voltage: 11 V, place: cabin, derates_above: 30 °C"),
        plan=sound(SURGE),
    )
    assert [f.subjects for f in found(inverter, HOT)] == [("mains",)]
    plan = edited((", place: cabin}\nbatteries", "}\nbatteries"), plan=faulty(HOT))
    assert not found(plan, HOT)


@pytest.mark.parametrize(("air", "expected"), [("60 °C", 0), ("61 °C", 1)])
def test_without_a_limit_it_is_taken_to_work_in_60_degrees(air: str, expected: int) -> None:
    plan = edited(
        ("derates_above: 30 °C, ", ""), ("cabin: {ambient: 35 °C", f"cabin: {{ambient: {air}"),
        plan=faulty(HOT),
    )  # fmt: skip
    assert len(found(plan, HOT)) == expected
