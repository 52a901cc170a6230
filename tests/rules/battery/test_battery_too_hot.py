"""The hottest air around a battery against what it stands."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found, levels, sound

HOT = "battery-too-hot"


@pytest.mark.parametrize(("limit", "expected"), [("35 °C", []), ("34 °C", ["warning"])])
def test_air_at_and_over_the_limit(limit: str, expected: list[str]) -> None:
    plan = edited(("max_temperature: 55 °C", f"max_temperature: {limit}"), plan=sound(HOT))
    assert levels(plan, HOT) == expected


def test_without_a_label_lithium_is_taken_as_good_for_45_degrees() -> None:
    unsaid = edited(("max_temperature: 55 °C, ", ""), plan=sound(HOT))
    for ambient, expected in (("45 °C", []), ("46 °C", ["warning"])):
        plan = edited(("cabin: {ambient: 35 °C}", f"cabin: {{ambient: {ambient}}}"), plan=unsaid)
        assert levels(plan, HOT) == expected
    engine = edited(("cabin: {ambient: 35 °C}", "cabin: {engine_space: true}"), plan=unsaid)
    [finding] = found(engine, HOT)
    assert finding.verdict == "likely"
    assert "gets up to 70 °C" in finding.message


def test_lead_beside_an_engine_that_it_does_not_start() -> None:
    # 70 °C under a bonnet where nothing is told, 50 °C at best; makers of lead say 50 °C to 60 °C
    lead = edited(
        ("lithium-iron-phosphate, nominal: 12.8 V", "agm, nominal: 12 V"),
        ("max_temperature: 55 °C, ", ""),
        plan=sound(HOT),
    )
    for place, expected in (
        ("ambient: 70 °C", []),
        ("engine_space: true", [("warning", "likely")]),
        ("engine_space: true, ambient: 61 °C", [("warning", "certain")]),
        ("engine_space: true, ambient: 50 °C", []),
    ):
        plan = edited(("cabin: {ambient: 35 °C}", f"cabin: {{{place}}}"), plan=lead)
        assert [(f.level, f.verdict) for f in found(plan, HOT)] == expected
    engine = edited(("cabin: {ambient: 35 °C}", "cabin: {engine_space: true}"), plan=lead)
    starts = """\
starters:
  engine: {current: 400 A}
wires:
  start-run: {from: house, to: engine, cable: batt-8, length: 1 m}
"""
    assert not found(edited(("wires:\n", starts), plan=engine), HOT)


HEATER = """\
heaters:
  mat: {{warms: house, power: 40 W, nominal: 12 V, keeps: {keeps}}}
wires:
  mat-run: {{from: house, to: mat, cable: batt-8, length: 1 m, place: cabin}}
"""


@pytest.mark.parametrize(("keeps", "expected"), [("55 °C", 0), ("56 °C", 1), ("unknown", 0)])
def test_a_heater_that_keeps_it_hotter_than_it_stands(keeps: str, expected: int) -> None:
    plan = edited(("wires:\n", HEATER.format(keeps=keeps)), plan=sound(HOT))
    seen = found(plan, HOT)
    assert [(f.subjects, f.level) for f in seen] == [(("house", "mat"), "warning")] * expected
