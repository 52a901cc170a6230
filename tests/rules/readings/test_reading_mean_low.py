"""The mean of several readings of one place, against its curve."""

from __future__ import annotations

import math

import pytest

from plans import edited
from rule_runs import faulty, found, sound
from rules.readings.plans import read
from wattproof.study.readings.again import Course
from wattproof.testing import study_of
from wattproof.views.figures import figures_of

MEAN = "reading-mean-low"
METER = "meter: {voltage: 0.5 %, current: 2 %, zero: 0.1 A, irradiance: 5 %}"
BESIDE = f"irradiance: 850 W/m², back_temperature: 48 °C, {METER}"


def at(value: str, day: str = "") -> str:
    return f"at: roof-string, {value}, {BESIDE}{f', date: {day}' if day else ''}"


def course(*readings: str, quantity: str = "isc") -> Course:
    (found_one,) = (c for c in study_of(read(*readings)).readings.courses if c.quantity == quantity)
    return found_one


def test_what_changes_by_chance_falls_out_of_the_mean() -> None:
    """Of n like readings the part of chance is one n-th root of n: a half of it of four."""
    single = course(at("isc: 4.4 A"), at("isc: 4.4 A"))
    [point, _] = single.points
    for count in (2, 4, 9):
        many = course(*[at("isc: 4.4 A")] * count)
        assert many.found is not None
        assert point.by_label is not None
        by_hand = point.by_label - point.changes * (1.0 - 1.0 / math.sqrt(count))
        assert many.found.number == pytest.approx(by_hand)


def test_at_the_limit() -> None:
    """What is a little more than the mean finds is told, and a little less is not."""
    four = course(*[at("isc: 3.9000 A")] * 4)
    assert four.found is not None
    expected = four.points[0].of.expected.isc.expected.number  # type: ignore[union-attr]
    for more, is_told in ((0.003, True), (-0.003, False)):
        amps = expected * (1.0 - four.found.number - more)
        findings = found(read(*[at(f"isc: {amps:.4f} A")] * 4), MEAN)
        assert bool(findings) is is_told


def test_one_that_is_low_alone_has_its_own_finding() -> None:
    readings = [at("isc: 3.7 A"), at("isc: 3.9 A"), at("isc: 3.9 A")]
    assert found(read(*readings), "reading-current-low")
    assert not found(read(*readings), MEAN)


def test_a_single_reading_has_no_mean() -> None:
    assert not study_of(read(at("isc: 4.4 A"))).readings.courses


def test_the_message_tells_mean_worst_and_change() -> None:
    [finding] = found(faulty(MEAN), MEAN)
    assert finding.level == "note"
    assert "87.6 % of the short-circuit current" in finding.message
    assert "at worst 86.9 % by `day-3`" in finding.message
    assert "in a year" not in finding.message  # six days are no trend
    assert not found(sound(MEAN), MEAN)
    later = edited(("date: 2026-06-15", "date: 2026-12-15"), plan=faulty(MEAN))
    [finding] = found(later, MEAN)
    assert "in a year it changes by" in finding.message


class TestTrend:
    def test_the_slope_by_hand(self) -> None:
        """1 % less each year over two years of 365 days: the line through all three."""
        told = course(
            at("isc: 4.400 A", "2024-06-21"),
            at("isc: 4.356 A", "2025-06-21"),
            at("isc: 4.312 A", "2026-06-21"),
        )
        assert told.per_year is not None
        assert told.per_year.number == pytest.approx(-0.01 / 0.99 * 365.25 / 365.0, rel=1e-6)
        assert told.worst.name == "r3"

    @pytest.mark.parametrize(
        "days",
        [
            ("2026-06-01", "2026-06-15", "2026-07-15"),  # six weeks
            ("2025-06-01", "2025-06-15", ""),  # one without a date
            ("2024-06-21", "2026-06-21"),  # two
        ],
    )
    def test_too_little_for_a_trend(self, days: tuple[str, ...]) -> None:
        assert course(*[at("isc: 4.4 A", day) for day in days]).per_year is None

    def test_ninety_days_are_enough(self) -> None:
        days = ("2026-03-01", "2026-04-01", "2026-05-30")
        assert course(*[at("isc: 4.4 A", day) for day in days]).per_year is not None
        shorter = ("2026-03-01", "2026-04-01", "2026-05-29")
        assert course(*[at("isc: 4.4 A", day) for day in shorter]).per_year is None


def test_figures_show_mean_and_worst() -> None:
    plan = read(at("voc: 66.9 V"), at("voc: 66.0 V"))
    shown = {figure.quantity: figure.value for figure in figures_of(study_of(plan))}
    assert "open-circuit voltage over its curve, in the mean" in shown
    assert "open-circuit voltage over its curve, at worst" in shown
