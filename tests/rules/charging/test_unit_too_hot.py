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


def test_inverters_too_and_silence_where_a_place_or_a_limit_is_missing() -> None:
    inverter = edited(
        ("low_voltage: 11 V", "low_voltage: 11 V, place: cabin, derates_above: 30 °C"),
        plan=sound(SURGE),
    )
    assert [f.subjects for f in found(inverter, HOT)] == [("mains",)]
    for text in ("derates_above: 30 °C, ", ", place: cabin}\nbatteries"):
        plan = edited((text, "}\nbatteries" if "batteries" in text else ""), plan=faulty(HOT))
        assert not found(plan, HOT)
