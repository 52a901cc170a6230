"""Readings that say little because something was not written beside them."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES
from rule_runs import found_beside_all as found
from rules.readings.plans import FULL_SUN, read, strings
from wattproof.testing import check_text

CURRENT_LOW = "reading-current-low"
MISSING = "reading-conditions-missing"
EVERY = sorted(rule.id for rule in RULES.rules.values() if rule.part == "reading")


def test_a_plan_without_readings_has_no_finding_of_them() -> None:
    assert not {f.rule for f in check_text(edited(), RULES).each} & set(EVERY)


def test_without_the_sun_a_low_current_says_nothing_by_itself() -> None:
    plan = read("at: roof-string, isc: 1.2 A")
    assert not found(plan, CURRENT_LOW)
    (finding,) = found(plan, MISSING)
    assert "no irradiance" in finding.message
    assert finding.level == "note"


def test_a_voltage_without_temperature_is_undecided() -> None:
    (finding,) = found(read("at: roof-string, voc: 65 V, irradiance: 900 W/m²"), MISSING)
    assert "could be right" in finding.message
    assert finding.level == "note"


def test_a_string_without_a_controller_is_undecided() -> None:
    plan = read(
        "at: spare, voc: 20 V",
        plan=edited(
            ("fuses:\n", "  spare: {module: rigid-100}\nfuses:\n"),
            ("max_system_voltage: 600 V}", "max_system_voltage: 600 V, regulated: true}"),
            (
                "wires:\n",
                "wires:\n  spare-run: {from: spare, to: house, cable: pv-10, length: 1 m}\n",
            ),
        ),
    )
    (finding,) = found(plan, MISSING)
    assert "feeds no controller" in finding.message


def test_half_a_power_is_undecided() -> None:
    (finding,) = found(read(f"at: tracker.pv, voltage: 55 V, {FULL_SUN}"), MISSING)
    assert "only 55 V of what makes power" in finding.message


def test_one_string_in_operation_is_undecided() -> None:
    one = "at: {}, current: 4 A, stage: bulk"
    (finding,) = found(read(one.format("roof-string")), MISSING)
    assert "sun and heat are not both told" in finding.message
    assert "like strings" not in finding.remedy
    (finding,) = found(read(one.format("string-1"), plan=strings(2)), MISSING)
    assert "no string like it" in finding.message
    assert "like strings" in finding.remedy


def test_what_is_read_for_a_drop_or_beside_a_reversed_string_wants_no_like_string() -> None:
    both = "voltage: 50 V, current: 4 A, taken: noon"
    ends = read(f"at: roof-string, {both}", f"at: tracker.pv, {both}")
    assert not any("in operation, and" in f.message for f in found(ends, MISSING))
    reversed_one = read(
        "at: string-1, current: 4 A, taken: noon",
        "at: string-2, current: -4 A, taken: noon",
        plan=strings(2),
    )
    assert not found(reversed_one, MISSING)


def test_nothing_at_night_is_as_it_should_be() -> None:
    night = 'date: 2026-12-21, time: "23:00"'
    north = edited(("  coldest: -18 °C\n", "  coldest: -18 °C\n  latitude: 47°\n"))
    nothing = "at: tracker.pv, voltage: 12.9 V, current: 0.0 A"
    assert not found(read(f"{nothing}, {night}", plan=north), MISSING)
    assert not found(read(f"{nothing}, irradiance: 0 W/m²"), MISSING)
    (open_one,) = found(read(f"at: roof-string, voc: 60 V, {night}", plan=north), MISSING)
    assert "below the horizon" in open_one.message


def test_what_is_read_together_is_as_hot() -> None:
    """Heat that one of two tells counts for the other, in the same plane."""
    sides = [
        "at: tracker.pv, voltage: 55 V, current: 4.1 A, taken: noon, stage: bulk, "
        "irradiance: 850 W/m², back_temperature: 48 °C",
        "at: tracker.battery, voltage: 13.6 V, current: 15.5 A, taken: noon, stage: bulk",
    ]
    assert not found(read(*sides), MISSING)
    apart = [sides[0], sides[1].replace("noon", "later")]
    assert not found(read(*apart), MISSING)
    alone = sides[1].replace("stage", "irradiance: 850 W/m², stage")
    (finding,) = found(read(alone), MISSING)
    assert "no temperature" in finding.message


@pytest.mark.parametrize(
    ("told", "meant"),
    [("0.905 W/m²", "905 W/m²"), ("0.1 W/m²", None), ("90.5 W/m²", None), ("150 W/m²", None)],
)
def test_a_sun_in_another_unit(told: str, meant: str | None) -> None:
    """0.905 kW/m²; with nothing beside it 90.5 W/m² may as well be a dull sky as 90.5 mW/cm²."""
    (finding,) = found(read(f"at: roof-string, voc: 66 V, irradiance: {told}"), MISSING)
    assert finding.level == "note"
    slip = f"{meant} would be right, so the unit was misread"
    assert (slip in finding.message) is (meant is not None)
    assert ("unit" in finding.remedy) is (meant is not None)


@pytest.mark.parametrize(
    ("shown", "told"), [("170 W", False), ("260 W", True), ("80 W", True), ("0.17 kW", False)]
)
def test_a_display_that_shows_what_voltage_and_current_do_not_make(shown: str, told: bool) -> None:
    """52 V and 3.3 A make 172 W, in bright sun enough for the four modules of the curve or not."""
    plan = read(f"at: tracker.pv, voltage: 52 V, current: 3.3 A, power: {shown}")
    words = [f.message for f in found(plan, MISSING) if "display" in f.message]
    assert bool(words) == told
    assert all("which make 172 W, and its display showed" in message for message in words)


def test_a_display_beside_too_little_power_is_told_with_that() -> None:
    plan = read(f"at: tracker.pv, voltage: 52 V, current: 0.8 A, power: 170 W, {FULL_SUN}")
    assert not [f for f in found(plan, MISSING) if "display" in f.message]
    assert [f for f in found(plan, "reading-power-under-curve") if "display" in f.message]


def test_what_was_read_where_a_meter_showed_no_sun_at_all() -> None:
    """Nothing can be said of 1 V; 4 A are more than comes of no sun, so its unit is asked for."""
    dark = "irradiance: 0 W/m², back_temperature: 15 °C"
    (finding,) = found(read(f"at: roof-string, voc: 1 V, {dark}"), MISSING)
    assert finding.message.endswith("since the sun was too weak")
    (over,) = found(read(f"at: roof-string, isc: 4 A, {dark}"), "reading-over-the-sun")
    assert "where 0 W/m² is written" in over.message


@pytest.mark.parametrize(
    ("whole", "is_told"),
    [("13.1 A", False), ("12.2 A", False), ("9 A", True), ("17 A", True), ("-13 A", False)],
)
def test_strings_that_make_another_current_than_flows_behind_them(
    whole: str, is_told: bool
) -> None:
    """13.1 A of three strings; no sun and no heat is needed for it, but the same moment."""
    given = [f"at: string-{n}, current: {a} A" for n, a in ((1, 4.4), (2, 4.4), (3, 4.3))]
    for words in ("noon", ""):
        taken = f", taken: {words}" if words else ""
        texts = [f"{each}{taken}" for each in (*given, f"at: tracker.pv, current: {whole}")]
        plan = read(*texts, plan=strings(3))
        told = [f for f in found(plan, MISSING) if "which make 13.1 A" in f.message]
        assert bool(told) is (is_told and bool(words))
