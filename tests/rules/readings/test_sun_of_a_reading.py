"""The sun of a reading that nobody measured: by a clear sky, or by what was read with it."""

from __future__ import annotations

import pytest

from rule_runs import found_beside_all as found
from rules.readings.plans import EXACT, first, read, strings
from wattproof.physics.clear_sky import CLEAR_AIR, on_plane
from wattproof.source import PlanUnusable
from wattproof.testing import study_of

TOGETHER = 'taken: "21 June, one minute"'
CLEAR = 'sky: clear, date: 2026-06-21, time: "12:00 solar"'


def placed(plan: str, latitude: str = "47°") -> str:
    return plan.replace("site:", f"site:\n  latitude: {latitude}", 1)


def test_a_clear_noon_is_a_band_around_the_model_s() -> None:
    """At 47° north in June the sun stands 66° high: some 950 W/m² on the level."""
    sun = first(placed(read(f"at: tracker.pv, power: 250 W, {CLEAR}"))).expected.sun
    assert 800 < sun.low.number < 900 < sun.expected.number < 1000 < sun.high.number < 1130


def test_a_clock_hides_the_hour() -> None:
    by_sun = first(placed(read(f"at: tracker.pv, power: 250 W, {CLEAR}"))).expected.sun
    by_clock = first(
        placed(read(f"at: tracker.pv, power: 250 W, {CLEAR.replace(' solar', '')}"))
    ).expected.sun
    assert by_clock.low.number < by_sun.low.number
    evening = first(
        placed(read(f"at: tracker.pv, power: 50 W, {CLEAR.replace('12:00 solar', '18:00')}"))
    ).expected.sun
    assert evening.low.number < 0.4 * by_clock.low.number


@pytest.mark.parametrize(("watts", "is_told"), [(250, False), (200, False), (110, True)])
def test_a_display_a_telephone_and_a_clear_noon(watts: int, is_told: bool) -> None:
    """No meter at all: watts on the display, the air on the telephone, the hour."""
    plan = placed(
        read(f"at: tracker.pv, power: {watts} W, {CLEAR}, air_temperature: 25 °C, stage: bulk")
    )
    told = found(plan, "reading-power-under-curve")
    assert bool(told) is is_told
    if told:
        assert "of sun, by the clear sky" in told[0].message


def test_haze_and_a_label_that_promises_too_much_may_come_together() -> None:
    """In a sun that nobody measured, too little is less than the haziest leaves of a low label."""
    exact = EXACT.replace("zero", "power: 0 %, zero")
    beside = f"{CLEAR}, air_temperature: 25 °C, stage: bulk, {exact}"
    power = first(placed(read(f"at: tracker.pv, power: 100 W, {beside}"))).stands.power
    assert power is not None
    assert power.given_least.number * 0.95 < 0.8 * power.given.number
    for share, is_told in ((0.96, False), (0.94, True)):
        watts = share * power.given_least.number
        plan = placed(read(f"at: tracker.pv, power: {watts:.3f} W, {beside}"))
        assert bool(found(plan, "reading-power-under-curve")) is is_told


def test_a_low_sun_loses_some_on_glass() -> None:
    """At 47° north on the shortest day noon is 20° high: a level module has it 70° aslant."""
    noon = CLEAR.replace("2026-06-21", "2026-12-21")
    plan = placed(read(f"at: tracker.pv, power: 50 W, {noon}")).replace(
        "mounting: roof-gap", "mounting: roof-gap, tilt: 0°"
    )
    sun = first(plan).expected.sun
    assert 0.86 < sun.expected.number / on_plane(47.0, 355, 0.0, 0.0, 0.0, CLEAR_AIR) < 0.95


def test_without_a_latitude_it_is_asked_for() -> None:
    plan = read(f"at: tracker.pv, power: 200 W, {CLEAR}, air_temperature: 25 °C, stage: bulk")
    notes = found(plan, "reading-conditions-missing")
    assert any("no latitude" in note.message for note in notes)


def test_a_clear_sky_without_the_hour_is_refused() -> None:
    with pytest.raises(PlanUnusable, match="the day and the hour"):
        study_of(read("at: tracker.pv, power: 200 W, sky: clear"))


@pytest.mark.parametrize("time", ["noon", "25:00", "12:60", "12"])
def test_what_is_no_time_of_day(time: str) -> None:
    plan = read(f'at: tracker.pv, power: 200 W, sky: clear, date: 2026-06-21, time: "{time}"')
    with pytest.raises(PlanUnusable, match=f"`{time}` is not a time of day"):
        study_of(plan)


def test_the_short_circuit_of_one_string_tells_the_sun_of_all() -> None:
    """One of two like strings gives 4.16 A of 5.2 A shorted: 800 W/m² for the power of both."""
    shorted = f"at: string-1, isc: 4.16 A, {TOGETHER}, {EXACT}"
    power = f"at: tracker.pv, power: 380 W, {TOGETHER}, back_temperature: 48 °C, stage: bulk"
    [one, both] = study_of(read(shorted, power, plan=strings(2))).readings.at_arrays
    assert one.expected.sun.expected.number == pytest.approx(800, rel=0.02)
    assert both.expected.sun.expected.number == pytest.approx(one.expected.sun.expected.number)
    assert both.stands.power_is_decidable
    few = read(shorted, power.replace("380", "180"), plan=strings(2))
    (finding,) = found(few, "reading-power-under-curve")
    assert "of sun, by" in finding.message


def test_it_does_not_make_its_own_measure() -> None:
    """A dirty string read as the sun would make the clean one look bright."""
    dirty = f"at: string-1, isc: 4.4 A, {TOGETHER}, {EXACT}"
    clean = f"at: string-2, isc: 5.2 A, {TOGETHER}, {EXACT}"
    assert not found(read(dirty, clean, plan=strings(2)), "reading-current-high")
    assert found(read(dirty, clean, plan=strings(2)), "reading-strings-unequal")


def test_an_irradiance_read_together_holds_in_the_same_plane_alone() -> None:
    meter = f"at: string-1, voc: 66 V, irradiance: 850 W/m², {TOGETHER}"
    other = f"at: string-2, isc: 4.4 A, {TOGETHER}"
    both = strings(2)
    [_, follows] = study_of(read(meter, other, plan=both)).readings.at_arrays
    assert follows.expected.sun.expected.number == 850
    tilted = both.replace(
        "string-2: {module: rigid-100, series: 3, mounting: roof-gap}",
        "string-2: {module: rigid-100, series: 3, mounting: roof-gap, tilt: 30°, facing: south}",
    )
    assert tilted != both
    [_, apart] = study_of(read(meter, other, plan=tilted)).readings.at_arrays
    assert not apart.taken.conditions.sun_known


def test_a_plane_that_nobody_told_is_level_on_a_vehicle_and_any_on_a_building() -> None:
    """A roof to the north of the equator at a winter noon: a third of the sun, or nearly all."""
    winter = 'sky: clear, date: 2026-12-21, time: "12:00 solar"'
    told = f"at: roof-string, isc: 4.6 A, {winter}, {EXACT}"
    van = placed(read(told))
    cabin = van.replace("setting: vehicle", "setting: cabin")
    assert found(van, "reading-current-high")
    assert not found(cabin, "reading-current-high")
    sun = first(cabin).expected.sun
    level = first(van).expected.sun
    assert sun.low.number < level.low.number < level.high.number < 0.5 * sun.high.number
    south = cabin.replace("mounting: roof-gap", "mounting: roof-gap, tilt: 60°, facing: south")
    north = south.replace("facing: south", "facing: north")
    assert first(south).expected.sun.low.number > first(north).expected.sun.high.number
    flat = cabin.replace("mounting: roof-gap", "mounting: roof-gap, tilt: 0°")
    assert first(flat).expected.sun.high.number == pytest.approx(level.high.number)


def test_a_level_roof_of_a_van_is_level_at_its_kindest_too() -> None:
    """So that a quarter of the power under a clear sky is told, whatever tilt would explain it."""
    told = f"at: tracker.pv, power: 60 W, {CLEAR}, air_temperature: 25 °C, stage: bulk"
    assert found(placed(read(told)), "reading-power-under-curve")
    raised = placed(read(told)).replace("setting: vehicle", "setting: cabin")
    assert not found(raised, "reading-power-under-curve")
