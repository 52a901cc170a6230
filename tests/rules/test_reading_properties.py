"""Readings over the whole range of sun, heat and strings: no false alarm, no missed module."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import a_quarter_of
from found import found_alone
from plans import edited
from wattproof.packs import RuleSet, discover
from wattproof.source import PlanUnusable
from wattproof.study.readings.at_arrays import ArrayReading
from wattproof.testing import check_text, study_of

RULES = discover()
OF_READINGS = RuleSet({r.id: r for r in RULES.rules.values() if r.part == "reading"})

SUN = st.floats(300.0, 1200.0)
BACK = st.floats(-5.0, 75.0)
SERIES = st.integers(2, 6)


def plan_of(series: int, reading: str) -> str:
    wide = edited(
        ("series: 3", f"series: {series}"),
        ("max_input_voltage: 100 V", "max_input_voltage: 250 V"),
    )
    return f"{wide}readings:\n  r: {{at: roof-string, {reading}}}\n"


def computed(series: int, conditions: str) -> ArrayReading:
    [reading] = study_of(plan_of(series, f"voc: 1 V, isc: 1 A, {conditions}")).readings.at_arrays
    return reading


def found(plan: str) -> set[str]:
    return {f.rule for f in found_alone("plan.yaml", plan, OF_READINGS).each}


@settings(max_examples=a_quarter_of(25), deadline=None)
@given(SERIES, SUN, BACK)
def test_what_the_curve_gives_is_no_finding(series: int, sun: float, back: float) -> None:
    conditions = f"irradiance: {sun:.0f} W/m², back_temperature: {back:.1f} °C"
    reading = computed(series, conditions)
    volts, amps = reading.expected.voc.expected.number, reading.expected.isc.expected.number
    assert not found(plan_of(series, f"voc: {volts:.1f} V, isc: {amps:.2f} A, {conditions}"))


@settings(max_examples=a_quarter_of(25), deadline=None)
@given(SERIES, SUN, BACK)
def test_a_missing_module_and_one_too_many_are_always_found(
    series: int, sun: float, back: float
) -> None:
    conditions = f"irradiance: {sun:.0f} W/m², back_temperature: {back:.1f} °C"
    volts = computed(series, conditions).expected.voc.expected.number
    fewer, more = volts * (series - 1) / series, volts * (series + 1) / series
    assert found(plan_of(series, f"voc: {fewer:.1f} V, {conditions}")) == {"reading-voltage-low"}
    assert found(plan_of(series, f"voc: {more:.1f} V, {conditions}")) == {"reading-voltage-high"}


@settings(max_examples=a_quarter_of(25), deadline=None)
@given(SUN, st.floats(-5.0, 40.0))
def test_cells_at_the_temperature_of_the_air_or_far_above_are_no_finding(
    sun: float, air: float
) -> None:
    """Whoever writes only the air is not told of a module that just lay in the shade or in calm."""
    conditions = f"irradiance: {sun:.0f} W/m², air_temperature: {air:.1f} °C"
    band = computed(3, conditions).expected.voc
    for volts in (band.low.number * 1.002, band.high.number * 0.998):
        told = found(plan_of(3, f"voc: {volts:.2f} V, {conditions}"))
        assert not told & {"reading-voltage-low", "reading-voltage-high"}


VALUES = {
    "voc": st.floats(-200.0, 200.0).map(lambda v: f"{v:.3f} V"),
    "isc": st.floats(-50.0, 50.0).map(lambda v: f"{v:.3f} A"),
    "current": st.floats(-50.0, 50.0).map(lambda v: f"{v:.3f} A"),
    "voltage": st.floats(-200.0, 200.0).map(lambda v: f"{v:.3f} V"),
    "posts_voltage": st.floats(-20.0, 20.0).map(lambda v: f"{v:.3f} V"),
    "drop": st.floats(0.0, 5.0).map(lambda v: f"{v:.4f} V"),
    "joint_temperature": st.floats(-20.0, 150.0).map(lambda v: f"{v:.1f} °C"),
    "irradiance": st.floats(1.0, 2000.0).map(lambda v: f"{v:.0f} W/m²"),
    "back_temperature": st.floats(-60.0, 120.0).map(lambda v: f"{v:.1f} °C"),
    "air_temperature": st.floats(-60.0, 120.0).map(lambda v: f"{v:.1f} °C"),
    "stage": st.sampled_from(["bulk", "absorption", "float"]),
}
PLACES = st.sampled_from(["roof-string", "tracker.pv", "tracker.battery", "house", "charge-fuse"])


@settings(max_examples=a_quarter_of(80), deadline=None)
@given(PLACES, st.fixed_dictionaries({}, optional=VALUES))
def test_any_reading_is_refused_or_judged(at: str, values: dict[str, Any]) -> None:
    written = ", ".join(f"{key}: {value}" for key, value in {"at": at, **values}.items())
    try:
        result = check_text(f"{edited()}readings:\n  r: {{{written}}}\n", RULES)
    except PlanUnusable as unusable:
        assert all(p.message and p.instead for p in unusable.problems)
        return
    assert not result.failed
