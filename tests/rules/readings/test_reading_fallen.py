"""Readings of one place at several times, against each other."""

from __future__ import annotations

import math

import pytest

from plans import edited
from rule_runs import faulty, found, sound
from rules.readings.plans import read
from wattproof.study.readings.again import Fall
from wattproof.study.readings.finds import finds_of
from wattproof.testing import study_of

FALLEN = "reading-fallen"
METER = "meter: {voltage: 0.5 %, current: 2 %, zero: 0 A, irradiance: 5 %}"
BESIDE = f"irradiance: 850 W/m², back_temperature: 48 °C, {METER}"


def at(value: str, more: str = "", beside: str = BESIDE) -> str:
    return f"at: roof-string, {value}, {beside}{more}"


def falls(*readings: str) -> dict[str, Fall]:
    return {fall.quantity: fall for fall in study_of(read(*readings)).readings.falls}


def test_a_fall_by_hand() -> None:
    """4.40 A to 4.05 A in the same sun and heat: 8.0 % less."""
    fall = falls(at("isc: 4.400 A"), at("isc: 4.050 A"))["isc"]
    assert fall.fell.number == pytest.approx(1.0 - 4.05 / 4.40)
    each = math.hypot(0.025, 0.01)  # half of 5 % and of 2 %
    assert fall.found.number == pytest.approx(1.73 * math.sqrt(2.0) * each, rel=0.03)
    assert fall.is_found


def test_the_message_tells_both_and_what_would_be_found() -> None:
    [finding] = found(faulty(FALLEN), FALLEN)
    assert finding.level == "warning"
    assert finding.subjects == ("this-summer", "roof-string", "first-summer")
    assert "it fell by 9.09 %" in finding.message
    assert "would be found" in finding.message
    assert "as with dirt" in finding.message
    assert not found(edited(("isc: 4.0 A", "isc: 4.2 A"), plan=faulty(FALLEN)), FALLEN)


def test_half_of_what_the_label_lets_pass_is_found() -> None:
    """The aim: 16 % of a short-circuit current and 4.5 % of a voltage, halved."""
    text = read(at("isc: 4.40 A, voc: 66.9 V"), at("isc: 4.40 A, voc: 66.9 V"))
    study = study_of(text)
    by_label = {f.quantity: f.share.number for f in finds_of(study.readings.at_arrays[1])}
    by_before = {
        f.quantity: f.share.number for f in study.readings.finds(study.readings.at_arrays[1])
    }
    assert by_before["isc"] < 0.6 * by_label["isc"]
    assert by_before["voc"] < 0.6 * by_label["voc"]
    assert by_before["isc"] < 0.08
    assert by_before["voc"] < 0.025


def test_the_mean_of_more_readings_finds_smaller_falls() -> None:
    one = falls(at("isc: 4.40 A"), at("isc: 4.40 A"))["isc"]
    many = falls(*[at("isc: 4.40 A")] * 5)["isc"]
    assert many.found.number < one.found.number
    assert len(many.before) in (1, 2, 3, 4)


def test_the_worst_of_several_is_told() -> None:
    values = [at("isc: 4.40 A"), at("isc: 3.95 A"), at("isc: 4.42 A")]
    fall = falls(*values)["isc"]
    assert fall.reading.name == "r2"
    assert [each.name for each in fall.before] == ["r1"]
    [finding] = found(read(*values), FALLEN)
    assert "r2" in finding.message


def test_dates_go_before_the_order_of_the_plan() -> None:
    later = at("isc: 4.05 A", ", date: 2026-06-21")
    first = at("isc: 4.40 A", ", date: 2025-06-21")
    assert found(read(later, first), FALLEN)
    assert found(read(first, later), FALLEN)
    risen = at("isc: 4.40 A", ", date: 2026-06-21"), at("isc: 4.05 A", ", date: 2025-06-21")
    assert not found(read(*risen), FALLEN)


def test_other_sun_and_other_heat_are_allowed_for() -> None:
    """Half the sun gives half the current, and cooler cells more voltage."""
    dim = BESIDE.replace("850", "425")
    assert not found(read(at("isc: 4.40 A"), at("isc: 2.20 A", beside=dim)), FALLEN)
    cool = BESIDE.replace("48 °C", "20 °C")
    assert not found(read(at("voc: 72.0 V", beside=cool), at("voc: 66.5 V")), FALLEN)
    assert found(read(at("voc: 72.0 V", beside=cool), at("voc: 62.0 V")), FALLEN)


def test_without_sun_or_heat_nothing_is_compared() -> None:
    bare = f"irradiance: 850 W/m², {METER}"
    assert not falls(at("isc: 4.40 A", beside=bare), at("isc: 3.0 A", beside=bare))
    assert not falls(at("isc: 4.40 A"))


def test_power_in_bulk_is_compared_and_held_back_is_not() -> None:
    def power(amps: float, stage: str = "bulk") -> str:
        return f"at: tracker.pv, voltage: 53 V, current: {amps} A, stage: {stage}, {BESIDE}"

    assert found(read(power(4.0), power(3.5)), FALLEN)
    assert not found(read(power(4.0), power(3.9)), FALLEN)
    assert not found(read(power(4.0), power(3.5, "absorption")), FALLEN)


def test_other_places_are_not_compared() -> None:
    plan = read(at("isc: 4.40 A"), at("isc: 4.05 A").replace("at: roof-string", "at: tracker.pv"))
    assert not found(plan, FALLEN)


def test_a_sound_plan_lists_what_its_readings_would_not_show() -> None:
    noted = study_of(sound(FALLEN)).noted
    says = [a.says for a in noted if a.key == "what a reading shows"]
    assert len(says) == 2
    assert "% of the open-circuit voltage and" in says[0]
    assert says[0].startswith("`first-summer` would not show a loss below")


def test_where_the_curve_gives_nothing_no_loss_is_reckoned() -> None:
    """One module of 20 V charges no battery of 24 V: a tracker takes nothing of it."""
    plan = edited(
        ("series: 3", "series: 1"), ("nominal: 12.8 V", "nominal: 25.6 V"),
        ("charge_voltage: 14.2 V", "charge_voltage: 28.4 V"),
    )  # fmt: skip
    text = read(f"at: tracker.pv, voltage: 20 V, current: 0.1 A, stage: bulk, {BESIDE}", plan=plan)
    readings = study_of(text).readings
    assert "power" not in {each.quantity for each in readings.finds(readings.at_arrays[0])}


class TestAllThatCameSince:
    """Not one alone, but all readings since some day, against all until then."""

    def test_their_mean_finds_what_each_alone_does_not(self) -> None:
        before, since = [at("isc: 4.40 A")] * 4, [at("isc: 4.23 A")] * 4
        fall = falls(*before, *since)["isc"]
        assert [p.name for p in fall.before] == ["r1", "r2", "r3", "r4"]
        assert [p.name for p in fall.later] == ["r5", "r6", "r7", "r8"]
        assert fall.fell.number == pytest.approx(1.0 - 4.23 / 4.40)
        each = math.hypot(0.025, 0.01)
        assert fall.found.number == pytest.approx(1.73 * each * math.sqrt(2.0 / 4.0), rel=0.05)
        [finding] = found(read(*before, *since), FALLEN)
        assert "by `r5`, `r6`, `r7` and `r8` and in the mean" in finding.message
        assert not found(read(*before, since[0]), FALLEN)

    def test_one_that_is_low_is_named_alone(self) -> None:
        fall = falls(*[at("isc: 4.40 A")] * 3, at("isc: 3.9 A"), *[at("isc: 4.40 A")] * 3)["isc"]
        assert [p.name for p in fall.later] == ["r4"]


class TestDays:
    """Yields of clear days: haze makes each differ, and many of them show what one does not."""

    PLAN = edited(
        ("  hottest: 40 °C\n", "  hottest: 40 °C\n  latitude: 47°\n  height: 400 m\n"),
        ("mounting: roof-gap", "mounting: roof-gap, tilt: 0°"),
        ("output_current: 20 A", "output_current: 30 A"),
    )

    def plan(self, *yields: str, more: str = "sky: clear, stage: bulk") -> str:
        days = [
            f"at: tracker.pv, day_yield: {shown}, date: 2026-06-{10 + number}, {more}"
            for number, shown in enumerate(yields)
        ]
        return read(*days, plan=self.PLAN)

    def test_a_fall_of_a_third_shows_in_one_day(self) -> None:
        plan = self.plan("1.60 kWh", "1.05 kWh")
        [finding] = found(plan, FALLEN)
        assert "of a clear day by `r2`" in finding.message
        assert "battery that was full before evening" in finding.message
        assert not found(self.plan("1.60 kWh", "1.40 kWh"), FALLEN)

    def test_a_tenth_shows_in_the_mean_of_many(self) -> None:
        assert not found(self.plan("1.60 kWh", "1.44 kWh"), FALLEN)
        [finding] = found(self.plan(*["1.60 kWh"] * 8, *["1.42 kWh"] * 8), FALLEN)
        assert "in the mean" in finding.message

    @pytest.mark.parametrize("more", ["sky: clear", "stage: bulk", "sky: clear, stage: float"])
    def test_days_of_which_too_little_is_told_are_not_compared(self, more: str) -> None:
        assert not found(self.plan("1.60 kWh", "0.5 kWh", more=more), FALLEN)

    def test_a_controller_that_cuts_the_days_does_not_compare_them(self) -> None:
        cut = self.plan("1.60 kWh", "0.95 kWh").replace(
            "output_current: 30 A", "output_current: 9 A"
        )
        assert not found(cut, FALLEN)

    def test_days_of_other_months_are_taken_by_their_sky(self) -> None:
        """A winter day brings a level module at 47° north a sixth of a summer day's."""
        plan = self.plan("1.60 kWh", "0.26 kWh")
        winter = plan.replace("date: 2026-06-11", "date: 2026-12-20")
        assert found(plan, FALLEN)
        assert not found(winter, FALLEN)
