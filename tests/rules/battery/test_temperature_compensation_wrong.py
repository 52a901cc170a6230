"""Whether the charge voltage follows the temperature of lead, and leaves that of lithium."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound
from wattproof.plan.amend import Change

COMPENSATION = "temperature-compensation-wrong"
UNSAID = (", compensates_temperature: false", "")


def test_what_a_fixed_voltage_misses() -> None:
    """24 mV/K: 43 K below 25 °C is 1.032 V too little, 14 K above it 0.336 V too much."""
    [finding] = found(faulty(COMPENSATION), COMPENSATION)
    assert finding.level == "warning"
    assert "1.03 V too little at −18 °C" in finding.message
    assert "a place of 13 °C to 37 °C" in finding.remedy
    assert {str(v) for v in finding.values} == {"1.03 V", "0.336 V"}


@pytest.mark.parametrize(("ambient", "expected"), [("37 °C", []), ("38 °C", ["warning"])])
def test_a_place_that_stays_mild_needs_none(ambient: str, expected: list[str]) -> None:
    """12 K × 24 mV/K is 0.288 V, 13 K is 0.312 V; 0.3 V may be missed."""
    plan = edited(
        ("cabin: {ambient: 39 °C}", f"cabin: {{ambient: {ambient}, coldest: 15 °C}}"),
        plan=faulty(COMPENSATION),
    )
    assert levels(plan, COMPENSATION) == expected


def test_where_nothing_is_said_it_is_silent() -> None:
    assert not found(edited(UNSAID, plan=faulty(COMPENSATION)), COMPENSATION)


def test_lithium_wants_none() -> None:
    lithium = edited(
        ("chemistry: agm, nominal: 12 V", "chemistry: lithium-iron-phosphate, nominal: 12.8 V"),
        plan=sound(COMPENSATION),
    )
    [finding] = found(lithium, COMPENSATION)
    assert "raises its voltage by 1.03 V at −18 °C" in finding.message
    off = edited(("compensates_temperature: true", "compensates_temperature: false"), plan=lithium)
    assert not found(off, COMPENSATION)


@pytest.mark.parametrize(
    ("told", "chemistry"),
    [("0 mV/°C", "flooded"), ("-24 mV/°C", "lithium-iron-phosphate")],
)
def test_by_how_much_it_follows_goes_with_whether_it_does(told: str, chemistry: str) -> None:
    """The two would contradict each other in the plan."""
    plan = faulty(COMPENSATION).replace("compensates_temperature: false", f"compensation: {told}")
    kind = plan.split("chemistry: ")[1].split(",")[0]
    plan = plan.replace(f"chemistry: {kind}", f"chemistry: {chemistry}")
    [finding] = found(plan, COMPENSATION)
    follows = "true" if chemistry == "flooded" else "false"
    assert [(c.key, c.text) for c in finding.ways[0] if isinstance(c, Change)] == [
        ("compensates_temperature", follows),
        ("compensation", ""),
    ]
