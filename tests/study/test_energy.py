"""A day's balance against hand calculation: harvest, clipping, use, autonomy, seasons."""

from __future__ import annotations

import pytest

from plans import BASE, edited
from wattproof.physics import clear_sky
from wattproof.plan.energy import APPLIANCES
from wattproof.study import Study
from wattproof.study.assumptions.energy import (
    APPLIANCE_AT_BEST,
    APPLIANCE_AT_WORST,
    APPLIANCE_HOURS,
    APPLIANCE_POWER,
)
from wattproof.study.energy.balance import Balance, EnergyStudy
from wattproof.study.energy.daily_use import duty
from wattproof.testing import study_of
from wattproof.views.figures import figures_of

WH = 3600.0
CONSUMERS = """\
loads:
  refrigerator: {power: 45 W}
  pump: {current: 4 A}
inverters:
  mains: {power: 300 W, efficiency: 90 %, idle_power: 10 W}
wires:
  load-run: {from: house, to: refrigerator, cable: batt-8, length: 1 m}
  pump-run: {from: house, to: pump, cable: batt-8, length: 1 m}
  mains-run: {from: house, to: mains, cable: batt-8, length: 1 m}
"""
LATITUDE = ("  hottest: 40 °C\n", "  hottest: 40 °C\n  latitude: 47°\n")


def study(energy: str, *edits: tuple[str, str]) -> Study:
    return study_of(edited(*edits, ("wires:\n", CONSUMERS), plan=BASE) + f"energy:\n{energy}")


def only(energy: str, *edits: tuple[str, str]) -> EnergyStudy:
    [found] = study(energy, *edits).energy.balances
    return found


def balance(energy: str, *edits: tuple[str, str]) -> Balance:
    [found] = only(energy, *edits).balances
    return found


def test_a_plan_that_says_nothing_of_its_use_is_not_examined() -> None:
    silent = study_of(BASE)
    assert silent.energy.balances == silent.energy.lying == silent.energy.too_much_sun == ()


# What is used.


def test_use_by_hand() -> None:
    """45 W × 8 h + 4 A × 12.8 V × 0.5 h + 180 Wh / 0.9 + 10 W × 3 h + 0.03 A × 12.8 V × 24 h."""
    uses = (
        "  uses:\n    refrigerator: {hours: 8 h}\n    pump: {hours: 30 min}\n"
        "    mains: {energy: 180 Wh, switched_on: 3 h}\n"
    )
    found = balance(uses)
    expected = 45 * 8 + 4 * 12.8 * 0.5 + 180 / 0.9 + 10 * 3 + 0.03 * 12.8 * 24
    assert found.used.number / WH == pytest.approx(expected)
    assert found.harvests == ()
    assert found.least is None


def test_standby_that_is_declared_counts_instead() -> None:
    assert balance("  standby: 2 W\n").used.number == pytest.approx(48 * WH)


def test_an_inverter_is_taken_to_be_always_on_and_to_need_a_hundredth_of_its_power() -> None:
    """300 W / 0.85 of it, 1 h, and 3 W × 24 h."""
    bare = ("mains: {power: 300 W, efficiency: 90 %, idle_power: 10 W}", "mains: {power: 300 W}")
    text = edited(("wires:\n", CONSUMERS), plan=BASE).replace(*bare)
    [found] = study_of(text + "energy: {uses: {mains: {hours: 1 h}}}\n").energy.balances
    [taken] = found.balances[0].taken
    assert taken.idle is not None
    assert taken.idle.number == pytest.approx(72 * WH)
    assert taken.whole.number == pytest.approx((300 / 0.9 + 72) * WH)
    keys = {a.key for a in taken.whole.assumptions}
    assert keys == {"idle power", "hours switched on", "efficiency"}


def test_what_hangs_on_load_terminals_is_used_from_the_battery_behind() -> None:
    text = edited(
        ("wires:\n", CONSUMERS.replace("{from: house, to: pump", "{from: tracker.load, to: pump")),
        plan=BASE,
    )
    [found] = study_of(text + "energy: {uses: {pump: {hours: 1 h}}}\n").energy.balances
    assert [str(taken.consumer.name) for taken in found.balances[0].taken] == ["pump"]


def test_consumers_without_a_use_are_listed() -> None:
    noted = study("  uses: {pump: {hours: 1 h}}\n").noted
    assert {a.subject for a in noted if a.key == "daily use"} == {"refrigerator", "mains"}
    assert [a.subject for a in noted if a.key == "sun hours"] == ["site"]


def test_a_use_that_no_battery_feeds_is_counted_nowhere_and_listed() -> None:
    radio = (
        "chargers:\n  alternator: {kind: alternator, max_output_current: 50 A}\n"
        "loads:\n  radio: {power: 20 W}\nwires:\n"
        "  radio-run: {from: alternator, to: radio, cable: batt-8, length: 1 m}\n"
    )
    found = study_of(edited(("wires:\n", radio)) + "energy: {uses: {radio: {hours: 1 h}}}\n")
    assert [e.has_use for e in found.energy.balances] == [False]
    [noted] = [a for a in found.noted if a.key == "daily use"]
    assert "no battery feeds it" in noted.says


# What is harvested.

HOT_VMP = 0.81173306
"""Vmp of the base module's curve with cells at 76.25 °C, over its label's; by the coefficients of
power and current it would be 0.79."""


def warm(series: int, air: float) -> float:
    """Power (W) of the base array: a roof with a gap warms cells by 36.25 K at noon."""
    rise = (49 - 20) / 0.8
    hot, cells = 40 + rise, air + 0.7 * rise
    factor = HOT_VMP
    return series * 20.4 * 4.9 * (1 + (factor - 1) * (cells - 25) / (hot - 25))


def test_harvest_by_hand() -> None:
    """Winter air is a quarter of the way from −18 °C to 40 °C; nothing is clipped."""
    found = balance(
        "  sun_hours: {winter: 1.5 h}\n", ("output_current: 20 A", "output_current: 30 A")
    )
    assert found.least is not None
    assert found.most is not None
    watts = warm(3, -3.5)
    assert found.least.number / WH == pytest.approx(watts * 1.5 * 0.80 * 0.93 * 0.92)
    assert found.most.number / WH == pytest.approx(watts * 1.5 * 0.95 * 0.98 * 0.98)
    assert found.limit is None


def test_a_small_controller_clips_the_day() -> None:
    """300 W would charge with some 20 A; a controller of 10 A keeps two thirds or so."""
    sun = "  sun_hours: {summer: 5 h}\n"
    whole = balance(sun, ("output_current: 20 A", "output_current: 40 A"))
    half = balance(sun, ("output_current: 20 A", "output_current: 10 A"))
    assert whole.least is not None
    assert half.least is not None
    noon = warm(3, 25.5) * 0.98 / 12.8
    kept = clear_sky.kept_under_limit(10 / noon)
    assert half.least.number / whole.least.number == pytest.approx(kept, rel=1e-5)
    assert half.harvests[0].unclipped.number == pytest.approx(whole.least.number)
    assert half.harvests[0].noon.number == pytest.approx(noon)


def test_a_pulse_width_controller_passes_current_not_power() -> None:
    """4.9 A × 12.8 V at least, 5.2 A × 14.2 V at most, of one module."""
    found = balance(
        "  sun_hours: {summer: 5 h}\n", ("kind: mppt", "kind: pwm"), ("series: 3", "series: 1")
    )
    assert found.least is not None
    assert found.most is not None
    assert found.least.number / WH == pytest.approx(4.9 * 12.8 * 5 * 0.80 * 0.92)
    assert found.most.number / WH == pytest.approx(5.2 * 14.2 * 5 * 0.95 * 0.98)


def test_lead_gives_back_less() -> None:
    sun = "  sun_hours: 3 h\n"
    lithium = balance(sun).least
    lead = balance(sun, ("lithium-iron-phosphate, nominal: 12.8", "flooded, nominal: 12.8")).least
    assert lithium is not None
    assert lead is not None
    assert lead.number / lithium.number == pytest.approx(0.75 / 0.92)


def test_the_range_reaches_over_what_the_trade_counts_on() -> None:
    """Common practice: 0.65 to 0.75 of label power times sun hours, loads divided by 0.85."""
    found = balance(
        "  sun_hours: {summer: 5 h}\n", ("output_current: 20 A", "output_current: 40 A")
    )
    assert found.least is not None
    assert found.most is not None
    label = 300.0 * 5 * WH
    assert 0.65 * 0.85 < found.least.number / label < 0.75 * 0.85 < found.most.number / label < 0.85


def test_harvest_from_the_latitude_has_a_wide_range() -> None:
    found = only("  uses: {pump: {hours: 1 h}}\n", LATITUDE).balances
    assert found[0].harvests[0].noon.number < 12  # level modules in the low sun are not clipped
    assert [each.name for each in found] == ["winter", "spring", "summer", "autumn"]
    winter = found[0]
    assert winter.least is not None
    assert winter.most is not None
    assert winter.limit is not None
    darkest, brightest = (clear_sky.sun_hours(47.0, month, 0.0, 0.0) for month in (12, 2))
    watts = warm(3, -3.5)
    assert winter.skies == ("dull",)
    assert not winter.told
    assert winter.least.number / WH == pytest.approx(watts * 0.3 * darkest * 0.8 * 0.93 * 0.92)
    assert winter.most.number / WH == pytest.approx(watts * 0.72 * brightest * 0.95 * 0.98 * 0.98)
    clearest = clear_sky.sun_hours(47.0, 2, 0.0, 0.0, clear_sky.CLEAREST_AIR)
    assert winter.limit.number / WH == pytest.approx(3 * 20.4 * 4.9 * 1.25 * clearest)
    keys = {a.key for a in winter.least.assumptions}
    assert keys == {"sun hours", "tilt", "height above the sea"}
    assert {a.key for a in winter.limit.assumptions} == {"tilt", "height above the sea"}


def test_a_sky_that_is_told_counts_by_its_period_and_by_its_season() -> None:
    sky = "  sky: {winter: sunny, july: dull, june: mixed}\n"
    uses = "  uses: {pump: {hours: {january: 1 h, july: 1 h, june: 1 h}}}\n"
    found = {b.name: b for b in only(sky + uses, LATITUDE).balances}
    assert [b.skies for b in found.values()] == [("sunny",), ("dull",), ("mixed",)]
    assert all(b.told for b in found.values())
    least = found["july"].least
    assert least is not None
    clear = clear_sky.sun_hours(47.0, 7, 0.0, 0.0)
    assert least.number / WH == pytest.approx(
        warm(3, 25.5) * 0.30 * clear * 0.8 * 0.93 * 0.92, rel=0.02
    )
    assert {a.key for a in least.assumptions} == {"tilt", "height above the sea"}


def test_a_sky_alone_names_the_periods() -> None:
    found = only("  sky: {winter: dull, summer: sunny}\n  uses: {pump: {hours: 1 h}}\n", LATITUDE)
    assert [each.name for each in found.balances] == ["winter", "summer"]


def test_height_above_the_sea_brings_more_of_a_clear_day() -> None:
    uses = "  uses: {pump: {hours: {june: 1 h}}}\n"
    high = ("  hottest: 40 °C\n", "  hottest: 40 °C\n  latitude: 47°\n  height: 2000 m\n")
    strong = ("output_current: 20 A", "output_current: 60 A")
    [low], [up] = only(uses, LATITUDE, strong).balances, only(uses, high, strong).balances
    assert low.least is not None
    assert up.least is not None
    hours = [clear_sky.sun_hours(47.0, 6, 0.0, 0.0, clear_sky.CLEAR_AIR, z) for z in (0.0, 2000.0)]
    assert up.least.number / low.least.number == pytest.approx(hours[1] / hours[0])
    assert 1.05 < hours[1] / hours[0] < 1.20
    assert "height above the sea" not in {a.key for a in up.least.assumptions}
    assert up.limit is not None
    clearest = clear_sky.sun_hours(47.0, 6, 0.0, 0.0, clear_sky.CLEAREST_AIR, 2000.0)
    assert up.limit.number / WH == pytest.approx(3 * 20.4 * 4.9 * 1.15 * clearest)


def test_days_from_full_until_the_bank_is_empty_by_hand() -> None:
    """1024 Wh over what is used beyond the most that the sun brings."""
    energy = "  sun_hours: {winter: 1 h}\n  uses: {refrigerator: {hours: 12 h}}\n"
    found = only(energy)
    [winter] = found.balances
    assert winter.most is not None
    lasts = found.lasts(winter)
    assert lasts is not None
    assert lasts.number == pytest.approx(1024 * WH / (winter.used.number - winter.most.number))
    covered = only("  sun_hours: {winter: 6 h}\n  uses: {refrigerator: {hours: 12 h}}\n")
    assert covered.lasts(covered.balances[0]) is None


def test_seasons_turn_with_the_hemisphere() -> None:
    south = ("  hottest: 40 °C\n", "  hottest: 40 °C\n  latitude: -47°\n")
    uses = "  uses: {pump: {hours: {winter: 1 h, july: 1 h, january: 1 h}}}\n"
    winter, july, january = only(uses, south).balances
    assert winter.period.months == (6, 7, 8)
    assert (july.period.season, january.period.season) == ("winter", "summer")
    north = only(uses, LATITUDE).balances
    assert north[0].period.months == (12, 1, 2)
    assert north[2].period.season == "winter"


def test_the_polar_night_brings_nothing() -> None:
    arctic = ("  hottest: 40 °C\n", "  hottest: 40 °C\n  latitude: 75°\n")
    found = balance("  uses: {pump: {hours: {december: 1 h}}}\n", arctic)
    assert found.least is not None
    assert found.limit is not None
    assert found.least.number == found.limit.number == 0.0
    assert found.covered == 0.0


# How long it lasts.


def test_autonomy_by_hand() -> None:
    """100 Ah × 12.8 V × 0.8 over 45 W × 8 h and the standby."""
    found = only("  uses: {refrigerator: {hours: 8 h}}\n")
    assert found.usable.number == pytest.approx(100 * 12.8 * 0.8 * WH)
    assert found.autonomy is not None
    assert found.autonomy.number == pytest.approx(1024 / (360 + 9.216))
    half = only("  uses: {refrigerator: {hours: 8 h}}\n",
                ("capacity: 100 Ah", "capacity: 100 Ah, depth_of_discharge: 40 %"))  # fmt: skip
    assert half.usable.number == pytest.approx(512 * WH)


def test_the_season_with_most_use_counts() -> None:
    found = only(
        "  sun_hours: {winter: 1 h, summer: 5 h}\n"
        "  uses: {refrigerator: {hours: {winter: 4 h, summer: 10 h}}}\n"
    )
    assert found.most_used.name == "summer"
    assert found.darkest is not None
    assert found.darkest.name == "winter"


def test_figures_list_the_balance_of_each_period() -> None:
    figures = list(figures_of(study("  sun_hours: {winter: 1 h, summer: 5 h}\n")))
    of_bank = [f.quantity for f in figures if f.subject == "house"]
    for period in ("winter", "summer"):
        assert f"{period}: used a day" in of_bank
        assert f"{period}: harvest a day, at least" in of_bank
    assert "days without sun" in of_bank
    assert not any("harvest" in f.quantity for f in figures_of(study_of(BASE)))


# What travellers run, where nobody measured it.


def taken(energy: str, *edits: tuple[str, str]) -> dict[str, float]:
    """Watt-hours a day of each consumer in the only period."""
    return {str(t.consumer.name): t.whole.number / WH for t in balance(energy, *edits).taken}


def test_a_refrigerator_runs_by_the_air_around_it() -> None:
    """45 W, a third of the time at 25 °C; never below 18 °C; all the time in the hottest."""
    winter = "  uses: {refrigerator: {appliances: compressor-refrigerator, hours: 8 h}}\n"
    with pytest.raises(Exception, match="nobody measured"):
        balance(winter)
    for season, air in (("winter", 18.0), ("summer", 25.5)):
        hours = f"  sun_hours: {{{season}: 3 h}}\n"
        uses = "  uses: {refrigerator: {appliances: compressor-refrigerator}}\n"
        assert taken(hours + uses)["refrigerator"] == pytest.approx(45 * 24 * duty(air), rel=1e-6)
    assert [duty(t) for t in (0.0, 10.0, 25.0, 43.0, 60.0)] == [0.15, 0.15, 1 / 3, 1.0, 1.0]
    assert all(duty(t) <= duty(t + 1.0) for t in range(60))


def test_trade_rule_of_refrigerators() -> None:
    """Common practice: such a refrigerator takes 0.3 to 0.8 kWh a day between 20 and 38 °C."""
    assert 0.25 < 45 * 24 * duty(20.0) / 1000.0 < 0.45
    assert 0.6 < 45 * 24 * duty(38.0) / 1000.0 < 0.9


def test_what_runs_on_an_inverter_is_added_up_over_its_efficiency() -> None:
    """1500 W × 0.15 h and 50 W × 4 h over 0.9, and 10 W idle for 3 h."""
    uses = "  uses: {mains: {appliances: [kettle, laptop], switched_on: 3 h}}\n"
    assert taken(uses)["mains"] == pytest.approx((225 + 200) / 0.9 + 30)


def test_heat_takes_the_same_whatever_the_power() -> None:
    uses = "  uses: {refrigerator: {appliances: kettle}}\n"
    weak = ("{power: 45 W}", "{power: 150 W}")
    text = edited(("wires:\n", CONSUMERS.replace(*weak)), plan=BASE)
    [found] = study_of(f"{text}energy:\n{uses}").energy.balances
    assert found.balances[0].taken[0].whole.number / WH == pytest.approx(225)
    assert taken(uses)["refrigerator"] == pytest.approx(225)


def test_an_appliance_that_nobody_measured_is_listed_with_its_hours() -> None:
    [found] = balance("  uses: {refrigerator: {appliances: satellite-terminal}}\n").taken
    [assumption] = [a for a in found.whole.assumptions if a.key == "use of appliances"]
    assert assumption.says == (
        "`refrigerator` is assumed to run 8 h a day, as is usual of what is called "
        "`satellite-terminal`."
    )
    assert assumption.look_up is None


def test_every_appliance_has_a_range() -> None:
    for kind in APPLIANCES:
        best, worst = APPLIANCE_AT_BEST.factor, APPLIANCE_AT_WORST.factor
        assert isinstance(best, dict)
        assert isinstance(worst, dict)
        assert best[kind] < 1.0 < worst[kind]
        assert APPLIANCE_POWER.value[kind] * APPLIANCE_HOURS.value[kind] > 0.0


def test_an_air_heater_rests_in_summer() -> None:
    uses = "  uses: {refrigerator: {appliances: air-heater}}\n"
    assert taken("  sun_hours: {summer: 3 h}\n" + uses)["refrigerator"] == 0.0
    assert taken("  sun_hours: {winter: 3 h}\n" + uses)["refrigerator"] == pytest.approx(450)


# The trade's rule of thumb.


@pytest.mark.parametrize(("season", "hours"), [("winter", 2.0), ("summer", 5.0)])
def test_of_the_label_times_sun_hours_seven_to_eight_tenths_arrive(
    season: str, hours: float
) -> None:
    """Common practice: peak sun hours times the label times 0.7 to 0.8 arrive at the battery.

    What lithium gives back is left out of it: 92 % and 98 %.
    """
    found = balance(
        f"  sun_hours: {{{season}: {hours} h}}\n", ("output_current: 20 A", "output_current: 60 A")
    )
    assert found.least is not None
    assert found.most is not None
    label = 3 * 20.4 * 4.9 * hours * WH
    least, most = found.least.number / label / 0.92, found.most.number / label / 0.98
    assert least < 0.80
    assert most > 0.70
    assert 0.60 < least < most < 1.0


def test_a_plane_that_looks_away_gets_most_where_haze_scatters_the_sun() -> None:
    """35° steep, towards the south at 35° south: in June its light is the sky's alone.

    The most under any sky is then no less than what a usual clear day brings, though the clearest
    air brings less.
    """
    text = edited(
        ("  hottest: 40 °C\n", "  hottest: 40 °C\n  latitude: -35°\n  height: 0 m\n"),
        ("mounting: roof-gap", "mounting: open-rack, tilt: 35°, facing: south"),
    )
    text += "energy: {sky: {june: mixed}}\n"
    study = study_of(text)
    [energy] = study.energy.balances
    [june] = energy.balances
    assert june.limit is not None
    assert june.most is not None
    plane = (-35.0, 6, 35.0, 180.0)
    assert clear_sky.sun_hours(*plane, 5.0) > clear_sky.sun_hours(*plane, 2.0)
    assert june.limit.number > june.most.number
