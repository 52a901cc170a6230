"""Readings that somebody wrote or took amiss, and what a good electrician would say of each.

Situations of the trade (common practice): a prefix misread, a Fahrenheit thermometer, a date of the
other hemisphere, an hour of the night, a meter on alternating voltage, a clamp on another wire.
"""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found
from rules.readings.plans import read, strings
from wattproof.finding import Finding

METER = "meter: {voltage: 0.5 %, current: 2 %, zero: 0.1 A, irradiance: 5 %}"
SUN = f"irradiance: 850 W/m², back_temperature: 48 °C, {METER}"
NORTH = "latitude: 47°"
LOW, HIGH = "reading-voltage-low", "reading-voltage-high"
OVER, MISSING = "reading-over-the-sun", "reading-conditions-missing"
CURRENT_LOW, CURRENT_HIGH = "reading-current-low", "reading-current-high"


def at(place: str, *edits: tuple[str, str]) -> str:
    site = ("  coldest: -18 °C\n", f"  coldest: -18 °C\n  {place}\n")
    return edited(site, *edits)


def one(plan: str, rule: str) -> Finding:
    (finding,) = found(plan, rule)
    return finding


@pytest.mark.parametrize(
    ("reading", "rule", "right"),
    [
        ("at: roof-string, voc: 66.9 mV", LOW, "66.9 V would be right"),
        ("at: roof-string, voc: 66.9 kV", HIGH, ""),
        ("at: roof-string, isc: 4400 A", CURRENT_HIGH, "4.4 A would be right"),
        ("at: roof-string, isc: 4.4 kA", CURRENT_HIGH, "4.4 A would be right"),
        ("at: roof-string, isc: 4.4 mA", CURRENT_LOW, "4.4 A would be right"),
        ("at: tracker.pv, voltage: 55 V, current: 4100 A", OVER, "4.1 A would be right"),
        ("at: tracker.pv, power: 230 kW, stage: bulk", OVER, "230 W would be right"),
    ],
)
def test_a_prefix_that_was_misread(reading: str, rule: str, right: str) -> None:
    finding = one(read(f"{reading}, {SUN}"), rule)
    assert right in finding.message
    assert not right or "unit" in f"{finding.message} {finding.remedy}"


def test_two_values_that_changed_places() -> None:
    plan = read(f"at: roof-string, voc: 4.4 V, isc: 66.9 A, {SUN}")
    for rule in (LOW, CURRENT_HIGH):
        assert "would be right as the" in one(plan, rule).message


def test_two_unlike_strings_that_changed_places() -> None:
    """Two in series and three: nothing is wrong with a module, and nothing is over a limit."""
    plan = strings(2).replace(
        "string-2: {module: rigid-100, series: 3", "string-2: {module: rigid-100, series: 2"
    )
    at_one, at_two = f"at: string-1, voc: 44.6 V, {SUN}", f"at: string-2, voc: 66.9 V, {SUN}"
    low = one(read(at_one, at_two, plan=plan), LOW)
    high = one(read(at_one, at_two, plan=plan), HIGH)
    assert "right at `string-2`" in low.message
    assert "right at `string-1`" in high.message
    assert high.level == low.level == "warning"
    assert "unplugged" not in high.remedy
    alone = one(read(at_two, plan=plan), HIGH)
    assert "right at" not in alone.message


def test_no_voltage_beside_a_current_is_the_meter_and_no_open_circuit() -> None:
    finding = one(read(f"at: roof-string, voc: 0.0 V, isc: 4.4 A, {SUN}"), LOW)
    assert "nothing arrives" not in finding.message
    assert "another kind or range" in finding.message
    assert "direct current" in finding.remedy


def test_millivolts_written_as_volts() -> None:
    plan = read("at: charge-fuse, drop: 60 V, current: 15 A")
    assert "if the meter showed 60 mV, write it so" in one(plan, "reading-joint-drop").message
    plan = read("at: charge-fuse, drop: 1.9 V, current: 15 A")
    assert "mV" not in one(plan, "reading-joint-drop").message


@pytest.mark.parametrize(("told", "hot"), [("118 °C", True), ("95 °C", False), ("96 °C", True)])
def test_a_thermometer_that_shows_fahrenheit(told: str, hot: bool) -> None:
    """118 °F are 47.8 °C. No error of a fourth module in series may come of it."""
    plan = read(f"at: roof-string, voc: 66.9 V, {SUN.replace('48 °C', told)}")
    notes = [f for f in found(plan, MISSING) if "back_temperature" in f.message]
    assert bool(notes) is hot
    assert bool(found(plan, HIGH)) is not hot
    if told == "118 °C":
        assert "write 48 °C" in notes[0].remedy


def test_air_in_fahrenheit() -> None:
    """77 °F are 25 °C; 60 °C of air is let pass, since a box in the sun may have it."""
    for told, count in (("77 °C", 1), ("60 °C", 0)):
        beside = f"irradiance: 850 W/m², air_temperature: {told}, {METER}"
        plan = read(f"at: roof-string, voc: 66.9 V, isc: 4.4 A, {beside}")
        notes = [f for f in found(plan, MISSING) if "nothing there is so hot" in f.message]
        assert len(notes) == count


class TestTheSunTold:
    FLAT = ("mounting: roof-gap", "mounting: roof-gap, tilt: 0°")

    def test_a_date_of_the_other_hemisphere(self) -> None:
        """A winter noon at 40° south gives a level module some 400 W/m², and 5 A takes 960."""
        told = 'sky: clear, date: 2026-06-21, time: "12:00 solar", air_temperature: 25 °C'
        reading = f"at: roof-string, isc: 5.0 A, {told}, {METER}"
        south = read(reading, plan=at("latitude: -40°", self.FLAT))
        assert "of which the south has a minus" in one(south, CURRENT_HIGH).remedy
        assert not found(read(reading, plan=at("latitude: 40°", self.FLAT)), CURRENT_HIGH)

    @pytest.mark.parametrize("sky", ["sky: clear, ", ""])
    @pytest.mark.parametrize("shown", ["isc: 4.4 A", "current: 4.1 A, stage: bulk"])
    def test_a_current_in_the_night(self, shown: str, sky: str) -> None:
        told = f'{sky}date: 2026-06-21, time: "23:30", air_temperature: 25 °C'
        plan = read(f"at: roof-string, {shown}, {told}, {METER}", plan=at(NORTH))
        finding = one(plan, OVER)
        assert "the sun is below the horizon" in finding.message
        assert not found(plan, MISSING)

    @pytest.mark.parametrize("sky", ["sky: clear, ", ""])
    def test_power_in_the_night(self, sky: str) -> None:
        told = f'stage: bulk, {sky}date: 2026-12-21, time: "19:30", air_temperature: 5 °C'
        plan = read(f"at: tracker.pv, power: 220 W, {told}", plan=at(NORTH))
        assert "the sun is below the horizon" in one(plan, OVER).message
        assert not found(plan.replace("220 W", "2 W"), OVER)
        assert "below the horizon" in one(plan.replace("220 W", "2 W"), MISSING).message

    def test_a_lost_digit_of_the_irradiance(self) -> None:
        told = f"irradiance: 85 W/m², back_temperature: 48 °C, {METER}"
        finding = one(read(f"at: roof-string, isc: 4.4 A, {told}"), OVER)
        assert "where 85 W/m² is written" in finding.message
        assert not found(read(f"at: roof-string, isc: 0.44 A, {told}"), OVER)

    def test_modules_that_lie_otherwise_than_planned(self) -> None:
        """60° steep at noon in December, 47° north, and read on the level."""
        told = 'sky: clear, date: 2026-12-21, time: "12:00 solar", air_temperature: 0 °C'
        raised = at(NORTH, ("mounting: roof-gap", "mounting: roof-gap, tilt: 60°, facing: south"))
        plan = read(f"at: roof-string, isc: 1.4 A, {told}, {METER}", plan=raised)
        remedy = one(plan, CURRENT_LOW).remedy
        assert "whether the modules lie as the plan says" in remedy
        assert "hold the irradiance meter" not in remedy

    def test_a_clear_day_needs_no_hour(self) -> None:
        told = "at: tracker.pv, day_yield: 1.5 kWh, date: 2026-06-21, sky: clear, stage: bulk"
        assert not found(read(told, plan=at(NORTH)), MISSING)


@pytest.mark.parametrize("stage", ["absorption", "float", "equalise"])
def test_what_was_read_while_the_battery_set_the_current_is_told(stage: str) -> None:
    for shown in ("at: tracker.pv, power: 12 W", "at: roof-string, current: 0.9 A"):
        finding = one(read(f"{shown}, stage: {stage}, {SUN}"), MISSING)
        assert f"was read in {stage}" in finding.message
    assert not found(read(f"at: roof-string, voc: 66.9 V, stage: {stage}, {SUN}"), MISSING)


def test_a_tracker_that_holds_the_array_at_its_battery() -> None:
    plan = read(f"at: tracker.pv, voltage: 13.9 V, current: 4.4 A, stage: bulk, {SUN}")
    finding = one(plan, "reading-power-under-curve")
    assert "nothing tracks its maximum" in finding.message
    other = one(plan.replace("13.9 V", "36 V"), "reading-power-under-curve")
    assert "with shade or modules passed by" in other.message


def test_one_module_of_three_read_alone() -> None:
    plan = read(f"at: roof-string, voc: 22.3 V, {SUN}")
    assert "or one read alone" in one(plan, LOW).message


def test_the_clamp_on_the_wire_of_the_battery() -> None:
    plan = read(f"at: roof-string, current: 16.5 A, stage: bulk, {SUN}")
    assert "on the battery side of `tracker`" in one(plan, OVER).message
    plan = read(f"at: string-1, current: 16.5 A, stage: bulk, {SUN}", plan=strings(2))
    assert "battery side" not in one(plan, OVER).message


class TestPostsAgainstController:
    RULE = "reading-charge-voltage"

    def plan(self, voltage: str, posts: str, beside: str = "current: 15 A") -> str:
        meter = "meter: {voltage: 0.5 %}"
        return read(
            f"at: tracker.battery, voltage: {voltage}, posts_voltage: {posts}, {beside}, {meter}"
        )

    def test_posts_above_what_charges_them(self) -> None:
        finding = one(self.plan("13.2 V", "13.9 V"), self.RULE)
        assert finding.level == "note"
        assert "exchanged" in finding.message

    def test_within_the_meter_nothing_is_said(self) -> None:
        """0.5 % of 13.2 V and of 13.3 V, and half a digit each: 0.23 V."""
        assert not found(self.plan("13.2 V", "13.4 V"), self.RULE)
        assert found(self.plan("13.2 V", "13.5 V"), self.RULE)

    def test_while_nothing_charges_it_may_be(self) -> None:
        assert not found(self.plan("13.2 V", "13.9 V", "current: -2 A"), self.RULE)


def test_a_shortfall_between_heat_and_a_group_of_cells_is_left_open() -> None:
    """Three modules with three groups each: one group is 11.1 %, of which 90 % is 10 %."""
    plan = edited(("max_series_fuse", "bypass_diodes: 3, max_series_fuse"))
    expected = 3 * 24.3 * (1 - 0.0029 * (51 - 25))
    told = "irradiance: 1000 W/m², back_temperature: 48 °C, meter: {voltage: 0 %}"
    for less, is_open in ((0.09, True), (0.098, True), (0.104, False)):
        reading = f"at: roof-string, voc: {expected * (1 - less):.3f} V, {told}"
        message = one(read(reading, plan=plan), LOW).message
        assert ("left open" in message) is is_open, message
        assert "failed bypass diode" in message


@pytest.mark.parametrize(
    ("reading", "rule", "right"),
    [
        ("at: roof-string, voc: 6.69 V", LOW, "66.9 V would be right"),
        ("at: roof-string, voc: 669 V", HIGH, "66.9 V would be right"),
        ("at: roof-string, isc: 0.44 A", CURRENT_LOW, "0.44 A shorted"),
        ("at: roof-string, isc: 0.44 A", CURRENT_LOW, "4.4 A would be right"),
        ("at: roof-string, isc: 44 A", CURRENT_HIGH, "4.4 A would be right"),
        ("at: tracker.pv, voltage: 55 V, current: 41 A", OVER, "4.1 A would be right"),
        ("at: tracker.pv, power: 2.3 kW, stage: bulk", OVER, "230 W would be right"),
    ],
)
def test_a_decimal_point_that_stands_elsewhere(reading: str, rule: str, right: str) -> None:
    finding = one(read(f"{reading}, {SUN}"), rule)
    assert right in finding.message
    assert "decimal point" in f"{finding.message} {finding.remedy}"


def test_a_fault_of_the_same_size_goes_before_a_decimal_point() -> None:
    """A tenth of the voltage may be one of ten modules alone; of one of three it is none."""
    plan = edited(
        ("series: 3", "series: 10"), ("max_input_voltage: 100 V", "max_input_voltage: 450 V")
    )
    finding = one(read(f"at: roof-string, voc: 22.3 V, {SUN}", plan=plan), LOW)
    assert "one module of it read alone" in finding.message
    assert "decimal" not in finding.message
    half_as_much_again = one(read(f"at: tracker.pv, voltage: 55 V, current: 6 A, {SUN}"), OVER)
    assert "decimal" not in half_as_much_again.message


def test_sun_with_a_point_too_early_is_told_by_a_current_in_operation() -> None:
    works = "at: tracker.pv, voltage: 55 V, current: 4.1 A, stage: bulk"
    dim = SUN.replace("850 W/m²", "85 W/m²")
    assert "850 W/m² would be right" in one(read(f"{works}, {dim}"), OVER).message


def test_the_decimal_point_of_a_battery_voltage() -> None:
    finding = one(
        read("at: tracker.battery, voltage: 1.34 V, current: 12 A"), "reading-battery-flat"
    )
    assert "13.4 V would be right" in finding.message
    assert finding.remedy.startswith("look at the decimal point")
    assert "part the array from the controller" in finding.remedy


@pytest.mark.parametrize(
    ("isc", "said"),
    [
        ("4.4 mA", "4.4 A would be right"),
        ("0.04 A", "the short was not closed"),
        ("0.3 A", "only a current too high"),  # a dull day
    ],
)
def test_less_than_a_dull_day_gives_needs_no_sun_to_be_told(isc: str, said: str) -> None:
    finding = one(read(f"at: roof-string, isc: {isc}"), MISSING)
    assert said in finding.message
    assert ("whether the switch that shorts it" in finding.remedy) is ("only" not in said)


def test_a_unit_is_told_where_sun_and_heat_are_not() -> None:
    finding = one(read("at: tracker.pv, voltage: 55 V, current: 4.1 mA, stage: bulk"), MISSING)
    assert "4.1 A would be right" in finding.message
    over = read("at: tracker.pv, voltage: 55 V, current: 41 A")
    assert "4.1 A would be right" in one(over, OVER).message
    assert not found(over, MISSING)


@pytest.mark.parametrize(("shown", "meant"), [("19 kWh", "1900 Wh"), ("29 kWh", "2900 Wh")])
def test_a_yield_with_a_point_or_a_unit_elsewhere(shown: str, meant: str) -> None:
    finding = one(read(f"at: tracker.pv, day_yield: {shown}"), "reading-day-yield")
    assert f"{meant} would be right" in finding.message
    many = one(read("at: tracker.pv, day_yield: 6 kWh"), "reading-day-yield")
    assert "would be right" not in many.message
