"""Open-circuit voltage read against the most that the curve gives, and the cold margin by it."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.readings.plans import EXACT, FULL_SUN, first, read, voc_by_hand
from wattproof.testing import check_remedy

LOW = "reading-voltage-low"
HIGH = "reading-voltage-high"


def test_the_cold_voltage_by_the_reading() -> None:
    plan = read(
        f"at: roof-string, voc: 72 V, {FULL_SUN}",
        plan=edited(("max_input_voltage: 100 V", "max_input_voltage: 86 V")),
    )
    (finding,) = found(plan, HIGH)
    cold = 3 * 24.3 * (1 + 0.0029 * 43) * 72 / voc_by_hand(51)
    assert finding.values[2].number == pytest.approx(cold, rel=1e-4)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert finding.margin == pytest.approx(1 - cold / 86, abs=1e-4)
    assert not finding.acceptable


@pytest.mark.parametrize(("limit", "level"), [("86 V", "error"), ("89 V", "warning")])
def test_it_is_an_error_where_the_cold_margin_then_fails(limit: str, level: str) -> None:
    """72 V for 67.8 V takes the cold voltage from 82 V to 87.1 V."""
    plan = read(
        f"at: roof-string, voc: 72 V, {FULL_SUN}",
        plan=edited(("max_input_voltage: 100 V", f"max_input_voltage: {limit}")),
    )
    assert [f.level for f in found(plan, HIGH)] == [level]


def test_inside_the_tolerance_it_is_told_only_where_the_cold_margin_surely_fails() -> None:
    """2 % over the label passes; but not before an input that had 1 % left."""
    voc = f"{voc_by_hand(51) * 1.025:.2f} V"
    near = edited(("max_input_voltage: 100 V", "max_input_voltage: 82.5 V"))
    wide = edited(("max_input_voltage: 100 V", "max_input_voltage: 90 V"))
    assert found(read(f"at: roof-string, voc: {voc}, {FULL_SUN}", plan=near), HIGH)
    assert not found(read(f"at: roof-string, voc: {voc}, {FULL_SUN}", plan=wide), HIGH)


def test_a_plan_that_fails_by_itself_is_told_once() -> None:
    plan = read(
        f"at: roof-string, voc: {voc_by_hand(51):.2f} V, {FULL_SUN}",
        plan=edited(("max_input_voltage: 100 V", "max_input_voltage: 80 V")),
    )
    assert found(plan, "cold-voltage-over-controller")
    assert not found(plan, HIGH)


@pytest.mark.parametrize("voc", ["103 V", "101 V"])
def test_a_reading_over_the_input_fails_whatever_else_is_unknown(voc: str) -> None:
    """A poor meter is off by 2 %, and the cold adds more than that."""
    (finding,) = found(read(f"at: roof-string, voc: {voc}"), HIGH)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert "that is already over the 100 V limit of `tracker`" in finding.message


def test_an_assumed_coldest_air_makes_no_error_by_itself() -> None:
    plan = read(
        f"at: roof-string, voc: 72 V, {FULL_SUN}",
        plan=edited(
            ("  coldest: -18 °C\n", ""), ("max_input_voltage: 100 V", "max_input_voltage: 86 V")
        ),
    )
    assert [f.level for f in found(plan, HIGH)] == ["warning"]


def test_the_value_of_the_remedy_settles_it_and_wakes_the_cold_margin() -> None:
    plan = read(
        f"at: roof-string, voc: 72 V, {FULL_SUN}",
        plan=edited(("max_input_voltage: 100 V", "max_input_voltage: 86 V")),
    )
    (finding,) = found(plan, HIGH)
    volts = re.search(r"write `voc: ([\d.]+ V)`", finding.remedy)
    assert volts
    settled = plan.replace("voc: 24.3 V", f"voc: {volts[1]}")
    assert not found(settled, HIGH)
    assert not found(settled, LOW)
    assert [f.level for f in found(settled, "cold-voltage-over-controller")] == ["error"]


def test_one_module_more_is_recognised() -> None:
    plan = read(f"at: roof-string, voc: {4 / 3 * voc_by_hand(51):.2f} V, {FULL_SUN}")
    (finding,) = found(plan, HIGH)
    assert "as with 4 modules in series where 3 are planned" in finding.message
    assert "count the modules in series, of which 4 would give it" in finding.remedy
    assert "write `voc" not in finding.remedy  # no label is a third off
    assert not finding.ways  # while the input may fail


def test_more_modules_and_a_wrong_label_are_both_tried_where_the_input_stands_them() -> None:
    wide = edited(("max_input_voltage: 100 V", "max_input_voltage: 250 V"))
    four = 4 / 3 * voc_by_hand(51)
    odd = read(f"at: roof-string, voc: {four:.2f} V, {FULL_SUN}", plan=wide)
    (more,) = found(odd, HIGH, tried=True)
    assert [str(c) for way in more.ways for c in way] == ["`series: 4` for `roof-string`"]
    check_remedy(more)
    wrong = read(f"at: roof-string, voc: 72 V, {FULL_SUN}", plan=wide)
    (label,) = found(wrong, HIGH, tried=True)
    assert [c.key for way in label.ways for c in way] == ["modules.rigid-100.voc"]
    check_remedy(label)
    (neither,) = found(read(f"at: roof-string, voc: 82 V, {FULL_SUN}", plan=wide), HIGH)
    assert "no label is that wrong" in neither.remedy
    assert not neither.ways


@pytest.mark.parametrize(
    ("volts", "level"), [("60 V", None), ("69 V", None), ("88 V", "error"), ("168.9 V", "error")]
)
def test_no_array_works_at_more_than_it_has_with_nothing_connected(
    volts: str, level: str | None
) -> None:
    plan = read(f"at: tracker.pv, voltage: {volts}, current: 4 A, stage: bulk, {FULL_SUN}")
    assert [f.level for f in found(plan, HIGH)] == ([level] if level else [])
    if level == "error":
        assert "over the 100 V limit of `tracker`" in found(plan, HIGH)[0].message


def test_what_works_over_its_open_voltage_has_more_in_series_and_a_colder_morning() -> None:
    """88 V at work are four modules at least, 109 V on the coldest morning."""
    works = f"at: tracker.pv, voltage: 88 V, current: 4 A, stage: bulk, {FULL_SUN}"
    (narrow,) = found(read(works), HIGH)
    assert "with 4 modules in series where 3 are planned" in narrow.message
    assert narrow.remedy.startswith("leave `tracker` unplugged")
    wide = edited(("max_input_voltage: 100 V", "max_input_voltage: 150 V"))
    (within,) = found(read(works, plan=wide), HIGH)
    assert within.level == "warning"
    assert "within the 150 V limit" in within.message


@pytest.mark.parametrize(
    ("reading", "sun"),
    [
        ("voc: 85.9 V", "irradiance: 700 W/m², back_temperature: -30 °C"),
        ("voc: 85.9 V", "irradiance: 90 W/m², back_temperature: -30 °C"),
        ("voltage: 85.4 V, current: 0.2 A", "irradiance: 900 W/m², back_temperature: -32 °C"),
    ],
)
def test_what_the_controller_does_not_stand_is_an_error_in_any_cold(reading: str, sun: str) -> None:
    """Colder than the plan's coldest, and right for that: over the input all the same."""
    mild = edited(
        ("max_input_voltage: 100 V", "max_input_voltage: 85 V"),
        ("coldest: -18 °C", "coldest: -8 °C"),
    )
    (finding,) = found(read(f"at: tracker.pv, {reading}, {sun}", plan=mild), HIGH)
    assert finding.level == "error"
    assert "over the 85 V limit of `tracker`, though the plan's coldest" in finding.message
    assert "`coldest`" in finding.remedy
    just = reading.replace("85.9", "84.9").replace("85.4", "84.9")
    assert not found(read(f"at: tracker.pv, {just}, {sun}", plan=mild), HIGH)


def test_heat_that_nobody_measured_is_not_put_down_to_the_label() -> None:
    """Over the band in cool air, what is over it is the label's, and the rest the air's."""
    cool = f"air_temperature: -8 °C, irradiance: 800 W/m², {EXACT}"
    band = first(read(f"at: roof-string, voc: 60 V, {cool}")).expected.voc
    reading = first(read(f"at: roof-string, voc: {1.01 * band.high.number:.3f} V, {cool}"))
    label = reading.explained.label_voc
    assert label is not None
    assert label.number == pytest.approx(24.3 * 1.01 * 1.03, rel=1e-3)
    cold = reading.explained.cold
    assert cold is not None
    assert cold.expected.number == pytest.approx(
        reading.taken.array.voc("coldest").number * 1.01 * 1.03, rel=1e-3
    )


@pytest.mark.parametrize(
    ("volts", "level", "said"),
    [
        (66.9, None, ""),
        (75.9, None, ""),
        (92.0, "error", "with 4 modules in series where 3 are planned; the coldest morning brings"),
        (118.0, "error", "over the 100 V limit of `tracker`"),
    ],
)
def test_more_in_weak_sun_than_full_sun_gives(volts: float, level: str | None, said: str) -> None:
    """At 20 °C 72.9 V by the label are 74.0 V, with its 3 % 76.2 V; weak sun gives less."""
    plan = read(f"at: roof-string, voc: {volts} V, irradiance: 150 W/m², back_temperature: 20 °C")
    told = found(plan, HIGH)
    assert [f.level for f in told] == ([level] if level else [])
    assert said in "".join(f.message for f in told)
    assert bool(found(plan, "reading-conditions-missing")) is (level is None)
