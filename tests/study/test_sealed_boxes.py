"""A power box of which only the solar input is told: where it works, and what it should show."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import BUILDS, found
from wattproof.testing import study_of

BOX = (BUILDS / "portable-two-on-a-box.yaml").read_text()
USABLE = ("max_input_current: 15 A", "usable_input_current: 8 A")
TAKES = "reading-power-under-curve"


def reading(watts: str) -> str:
    sky = "irradiance: 1000 W/m², back_temperature: 25 °C"
    return f"readings: {{noon: {{at: box.pv, power: {watts} W, {sky}}}}}\n"


def test_it_works_at_the_greatest_power_though_nothing_tells_its_battery() -> None:
    [curves] = study_of(BOX).curves.curves
    top = curves.maximum("standard")
    point = curves.operating("standard")
    assert point is not None
    assert (point.power.number, point.voltage.number) == (top[2].number, top[0].number)
    assert point.output is None


def test_beyond_the_current_that_it_takes_the_voltage_rises_and_the_rest_is_left() -> None:
    [curves] = study_of(edited(USABLE, plan=BOX)).curves.curves
    point = curves.operating("standard")
    assert point is not None
    assert point.limited_by == "input current"
    assert point.current.number == pytest.approx(8.0)
    volts = point.voltage.number
    assert 20.3 < volts < 24.3
    assert point.power.number == pytest.approx(8.0 * volts)
    assert point.power.number < curves.maximum("standard")[2].number


def test_nobody_is_asked_for_the_charge_voltage_of_a_sealed_battery() -> None:
    assert not found(BOX, "hot-voltage-under-battery")


@pytest.mark.parametrize(("watts", "low"), [("185", False), ("90", True)])
def test_what_its_display_shows_is_held_against_what_it_takes(watts: str, low: bool) -> None:
    assert bool(found(BOX + reading(watts), TAKES)) is low


def test_less_is_expected_where_it_takes_less() -> None:
    [finding] = found(edited(USABLE, plan=BOX) + reading("90"), TAKES)
    assert "held back by its input current" in finding.message
