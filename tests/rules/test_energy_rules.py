"""Rules on energy: limits, ranges, numbers by hand, silence, remedies that hold."""

from __future__ import annotations

import re

import pytest

from plans import BASE, edited
from wattproof.engine import check
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.physics import clear_sky
from wattproof.settings import of_call
from wattproof.testing import A_DAY, check_examples, check_remedy, check_text, study_of

RULES = discover()
HARVEST = "harvest-under-loads"
AUTONOMY = "autonomy-short"
LYING = "flat-winter-loss"
IDLE = "inverter-idle"
SMALL = "flooded-charge-too-small"
SUN = "sun-hours-over-clear-sky"
ALL = [HARVEST, AUTONOMY, LYING, IDLE, SMALL, SUN]


def sound(rule: str) -> str:
    return RULES.rules[rule].sound


def faulty(rule: str) -> str:
    return RULES.rules[rule].faulty.of(sound(rule))


def found(plan: str, rule: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


def levels(plan: str, rule: str) -> list[str]:
    return [f.level for f in found(plan, rule)]


@pytest.mark.parametrize("rule", ALL)
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


@pytest.mark.parametrize("rule", ALL)
def test_a_plan_that_says_nothing_of_its_use_is_not_examined(rule: str) -> None:
    assert not found(faulty(rule).split("energy:\n")[0], rule)
    assert not found(BASE, rule)


# Harvest against use. Winter: 202.2 W × 1.5 h × 0.80 × 0.93 × 0.92 = 207.6 Wh at least,
# × 0.95 × 0.98 × 0.98 = 276.7 Wh at most; standby 9.2 Wh.


@pytest.mark.parametrize(
    ("hours", "says"),
    [("4.4 h", ""), ("4.5 h", "it may run down"), ("5.9 h", "it may"), ("6.0 h", "it runs down")],
)
def test_use_against_the_range(hours: str, says: str) -> None:
    """45 W × 4.41 h + 9.2 Wh = 207.6 Wh; 45 W × 5.94 h + 9.2 Wh = 276.7 Wh."""
    plan = edited(("winter: 3 h", f"winter: {hours}"), plan=sound(HARVEST))
    findings = found(plan, HARVEST)
    assert len(findings) == bool(says)
    assert all(says in f.message and f.level == "note" for f in findings)


def test_harvest_numbers_and_both_remedies_hold() -> None:
    [finding] = found(faulty(HARVEST), HARVEST)
    assert finding.message == (
        "in winter 414.2 Wh a day are used from `house`, and the sun brings 207.6 Wh to 276.7 Wh: "
        "it runs down"
    )
    assert finding.subjects == ("house", "tracker", "roof-string")
    assert finding.margin == pytest.approx(1 - 414.216 / 207.6, abs=1e-3)
    assert finding.remedy == (
        "use 4 modules like `rigid-100` in place of 2 and controllers that pass on 31 A together, "
        "or use at most 207 Wh a day in winter"
    )
    more = edited(("series: 2", "arrangement: 1s4p"), plan=faulty(HARVEST))
    more = edited(("max_output_current: 20 A", "max_output_current: 31 A"), plan=more)
    assert not found(more, HARVEST)
    fewer = edited(("series: 2", "arrangement: 1s3p"), plan=faulty(HARVEST))
    assert found(edited(("current: 20 A", "current: 38 A"), plan=fewer), HARVEST)
    less = "{hours: {winter: 3 h, summer: 8 h}}"
    used = edited((less, "{energy: {winter: 190.5 Wh, summer: 8 Wh}}"), plan=sound(HARVEST))
    assert not found(used, HARVEST)


def test_several_short_seasons_are_one_finding() -> None:
    plan = edited(("summer: 8 h", "summer: 20 h"), plan=faulty(HARVEST))
    [finding] = found(plan, HARVEST)
    assert finding.message.startswith("in winter")
    assert "(so too in summer)" in finding.message
    [modules, amps] = re.findall(r"use ([0-9]+) modules .* pass on ([0-9]+) A", finding.remedy)[0]
    more = edited(
        ("series: 2", f"arrangement: 1s{modules}p"),
        ("max_output_current: 20 A", f"max_output_current: {amps} A"),
        plan=plan,
    )
    assert not found(more, HARVEST)


def test_where_only_the_controller_is_too_small_more_modules_are_not_the_remedy() -> None:
    plan = edited(
        ("max_output_current: 20 A", "max_output_current: 3 A"),
        ("winter: 3 h", "winter: 4 h"),
        plan=sound(HARVEST),
    )
    [finding] = found(plan, HARVEST)
    assert finding.remedy.startswith("use controllers that pass on 16 A together, or use at most")
    mended = edited(("current: 3 A", "current: 16 A"), plan=plan)
    assert not found(mended, HARVEST)


def test_a_use_above_what_the_clearest_sky_brings_is_a_warning() -> None:
    """At 47° level modules cannot get 9 h × 45 W from 200 W in December, however clear it is."""
    dark = edited(
        ("coldest: -18 °C", "latitude: 47°, coldest: -18 °C"),
        ("mounting: roof-gap", "mounting: roof-gap, tilt: 0°"),
        ("sun_hours: {winter: 1.5 h, summer: 5 h}", "sun_hours: {december: 0.8 h}"),
        ("{winter: 9 h, summer: 8 h}", "{december: 10 h}"),
        plan=faulty(HARVEST),
    )
    [finding] = found(dark, HARVEST)
    assert finding.level == "warning"
    limit = 199.92 * 1.25 * clear_sky.sun_hours(47.0, 12, 0.0, 0.0, clear_sky.CLEAREST_AIR)
    assert f"not even the clearest sky brings more than {limit:.1f} Wh" in finding.message
    raised = edited(("tilt: 0°", "tilt: 65°, facing: south"), plan=dark)
    assert levels(raised, HARVEST) == ["note"]
    unknown = edited((", tilt: 0°", ""), plan=dark)
    assert levels(unknown, HARVEST) == ["note"]  # it might be raised


def test_what_an_alternator_brings_is_not_known() -> None:
    other = (
        ("wires:\n", "chargers:\n  alternator: {kind: alternator, max_output_current: 90 A}\n"
         "wires:\n  alternator-run: {from: alternator, to: house, cable: batt-8, length: 2 m}\n"),
    )  # fmt: skip
    [finding] = found(edited(*other, plan=faulty(HARVEST)), HARVEST)
    assert finding.message.endswith("it runs down, unless `alternator` brings the rest")


def test_from_the_latitude_alone_it_asks_for_the_sun_hours() -> None:
    plan = edited(
        ("coldest: -18 °C", "latitude: 52°, coldest: -18 °C"),
        ("  sun_hours: {winter: 1.5 h, summer: 5 h}\n", ""),
        plan=sound(HARVEST),
    )
    [finding] = found(plan, HARVEST)
    assert (finding.level, finding.certainty) == ("note", "assumed")
    assert finding.remedy.endswith("write the sun hours of the place, from a table, as `sun_hours`")


def test_without_sun_hours_and_latitude_nothing_is_said_and_that_is_listed() -> None:
    plan = edited(("  sun_hours: {winter: 1.5 h, summer: 5 h}\n", ""), plan=faulty(HARVEST))
    result = check_text(plan, RuleSet({HARVEST: RULES.rules[HARVEST]}))
    assert not result.findings
    assert "sun hours" in {assumption.key for assumption in result.uses}


def test_sun_without_use_says_nothing() -> None:
    plan = sound(HARVEST).split("  uses:\n")[0].replace("winter: 1.5 h", "winter: 0 h")
    assert not found(plan, HARVEST)
    assert not found(plan.replace("capacity: 100 Ah", "capacity: 0.5 Ah"), AUTONOMY)


def test_in_the_polar_night_no_array_helps() -> None:
    plan = edited(
        ("coldest: -18 °C", "latitude: 75°, coldest: -18 °C"),
        ("  sun_hours: {winter: 1.5 h, summer: 5 h}\n", ""),
        ("{winter: 3 h, summer: 8 h}", "{december: 3 h}"),
        plan=sound(HARVEST),
    )
    [finding] = found(plan, HARVEST)
    assert finding.level == "warning"
    assert finding.remedy == "charge from something else than the sun in December"


def test_an_array_of_more_than_five_times_the_modules_is_no_remedy() -> None:
    plan = edited(("sun_hours: {winter: 1.5 h", "sun_hours: {winter: 0.5 h"), plan=faulty(HARVEST))
    [finding] = found(plan, HARVEST)
    assert finding.remedy == (
        "charge from something else than the sun in winter, or use at most 69 Wh a day in winter"
    )


# Autonomy: 45 W × 8 h + 9.2 Wh = 369.2 Wh a day in summer; 12.8 V × 0.8 of the capacity.


@pytest.mark.parametrize(("capacity", "expected"), [("36.1 Ah", []), ("36 Ah", ["note"])])
def test_days_without_sun(capacity: str, expected: list[str]) -> None:
    plan = edited(("capacity: 100 Ah", f"capacity: {capacity}"), plan=sound(AUTONOMY))
    assert levels(plan, AUTONOMY) == expected


def test_autonomy_numbers_and_remedy() -> None:
    [finding] = found(faulty(AUTONOMY), AUTONOMY)
    assert finding.message == (
        "`house` gives 348.2 Wh from full, and 369.2 Wh a day are used in summer: it lasts 23 h "
        "without sun"
    )
    assert finding.margin == pytest.approx(348.16 / 369.216 - 1, abs=1e-3)
    assert "at least 37 Ah in place of 34 Ah" in finding.remedy
    mended = edited(("capacity: 34 Ah", "capacity: 37 Ah"), plan=faulty(AUTONOMY))
    assert not found(mended, AUTONOMY)


def test_days_are_an_option_and_lead_gives_half() -> None:
    rules = RuleSet({AUTONOMY: RULES.rules[AUTONOMY]})
    study = study_of(sound(AUTONOMY))
    three = of_call({AUTONOMY: {"days": 3.0}})
    asked = check(study, rules, file="plan.yaml", today=A_DAY, settings=three)
    [finding] = asked.findings
    assert "at least 109 Ah" in finding.remedy  # 3 × 369.2 Wh / (12.8 V × 0.8) = 108.2 Ah
    lead = sound(AUTONOMY).replace("lithium-iron-phosphate, nominal: 12.8", "agm, nominal: 12.8")
    assert found(edited(("capacity: 100 Ah", "capacity: 57 Ah"), plan=lead), AUTONOMY)
    assert not found(edited(("capacity: 100 Ah", "capacity: 58 Ah"), plan=lead), AUTONOMY)


# Level modules in winter.


def test_loss_of_level_modules_by_hand() -> None:
    [finding] = found(faulty(LYING), LYING)
    level, (best, hours) = clear_sky.sun_hours(47.0, 12, 0.0, 0.0), clear_sky.best_tilt(47.0, 12)
    loss = 1 - level / hours
    assert f"loses {loss * 100:.2f} % of a clear day's sun" in finding.message
    assert f"by about {best:g}°" in finding.remedy
    assert (finding.level, finding.certainty) == ("note", "computed")


@pytest.mark.parametrize(
    ("latitude", "expected"), [("30°", []), ("36°", []), ("38°", ["note"]), ("-47°", ["note"])]
)
def test_loss_grows_with_latitude(latitude: str, expected: list[str]) -> None:
    plan = edited(("latitude: 47°", f"latitude: {latitude}"), plan=faulty(LYING))
    assert levels(plan, LYING) == expected


@pytest.mark.parametrize(("latitude", "facing"), [("47°", "south"), ("-47°", "north")])
def test_strings_that_lie_alike_are_told_once_and_raised_to_the_noon_sun(
    latitude: str, facing: str
) -> None:
    end = "tilt: 0°}\nswitches:"
    shed = "  shed: {module: rigid-100, series: 2, mounting: open-rack, tilt: 0°}\n"
    joint = "combiners:\n  joint: {joins: [roof-string, shed], rating: 30 A, voltage: 600 V}\n"
    plan = edited(
        (end, f"tilt: 0°}}\n{shed}{joint}switches:"),
        ("home-run: {from: roof-string", "home-run: {from: joint"),
        ("latitude: 47°", f"latitude: {latitude}"),
        plan=faulty(LYING),
    )
    [finding] = found(plan, LYING)
    assert "`roof-string` and `shed` each lose 63." in finding.message
    [way] = finding.ways
    assert [str(change) for change in way][:2] == [
        "`tilt: 70°` for `roof-string`",
        f"`facing: {facing}` for `roof-string`",
    ]
    check_remedy(finding)


def test_only_winter_counts_and_an_unstated_tilt_is_level() -> None:
    summer = edited(
        ("{winter: 1.5 h, summer: 5 h}", "{summer: 5 h}"),
        ("{winter: 3 h, summer: 8 h}", "8 h"),
        plan=faulty(LYING),
    )
    assert not found(summer, LYING)
    unstated = edited((",\n                tilt: 0°", ""), plan=faulty(LYING))
    [finding] = found(unstated, LYING)
    assert finding.certainty == "assumed"
    assert not found(faulty(LYING).replace("latitude: 47°, ", ""), LYING)


def test_where_the_sun_does_not_rise_raising_gains_nothing() -> None:
    assert not found(edited(("latitude: 47°", "latitude: 72°"), plan=faulty(LYING)), LYING)


# What an inverter takes for itself: 100 Wh / 0.9 + 9.2 Wh are the other use.


@pytest.mark.parametrize(("hours", "expected"), [("2.1 h", []), ("2.2 h", ["note"])])
def test_idle_energy(hours: str, expected: list[str]) -> None:
    """0.15 / 0.85 × 120.3 Wh / 10 W = 2.12 h."""
    plan = edited(("switched_on: 1 h", f"switched_on: {hours}"), plan=sound(IDLE))
    assert levels(plan, IDLE) == expected


def test_idle_numbers_and_remedy() -> None:
    [finding] = found(faulty(IDLE), IDLE)
    assert finding.message == (
        "`mains` takes 240 Wh a day for itself in summer, 66.61 % of all that is used"
    )
    [hours] = re.findall(r"switched_on: ([0-9.]+ h)", finding.remedy)
    assert hours == "2.1 h"
    [[change]] = finding.ways
    assert str(change) == "`switched_on: 2.1 h` for the use of `mains`"
    mended = edited(("switched_on: 24 h", f"switched_on: {hours}"), plan=faulty(IDLE))
    assert not found(mended, IDLE)


def test_an_inverter_that_says_nothing_is_taken_as_always_on() -> None:
    """1 % of 300 W for 24 h are 72 Wh, a third and more of the use."""
    plan = edited((", switched_on: 1 h", ""), (", idle_power: 10 W", ""), plan=sound(IDLE))
    [finding] = found(plan, IDLE)
    assert finding.certainty == "assumed"
    assert "`mains` takes 72 Wh a day" in finding.message


def test_an_inverter_that_nothing_runs_on() -> None:
    plan = edited(("energy: 100 Wh, switched_on: 1 h", "switched_on: 24 h"), plan=sound(IDLE))
    [finding] = found(plan, IDLE)
    assert "switch it on at most 0.1 h a day" in finding.remedy


# Charge current of flooded lead: 199.9 W / 12 V = 16.66 A.


@pytest.mark.parametrize(("capacity", "expected"), [("166 Ah", []), ("167 Ah", ["note"])])
def test_charge_current_of_flooded_lead(capacity: str, expected: list[str]) -> None:
    plan = edited(("capacity: 100 Ah", f"capacity: {capacity}"), plan=sound(SMALL))
    assert levels(plan, SMALL) == expected


def test_charge_current_numbers_and_remedy() -> None:
    [finding] = found(faulty(SMALL), SMALL)
    assert finding.message == (
        "`house` gets 16.66 A when all charge at once, and a flooded bank of 200 Ah needs 20 A at "
        "least"
    )
    assert finding.margin == pytest.approx(16.66 / 20 - 1, abs=1e-3)
    assert "give 20 A together charge it (about 3 modules in place of 2)" in finding.remedy
    assert not found(edited(("series: 2", "series: 3"), plan=faulty(SMALL)), SMALL)


def test_other_batteries_and_other_sources() -> None:
    agm = faulty(SMALL).replace("chemistry: flooded", "chemistry: agm")
    assert not found(agm, SMALL)
    alternator = edited(
        ("wires:\n", "chargers:\n  alternator: {kind: alternator, max_output_current: 90 A}\n"
         "wires:\n  alternator-run: {from: alternator, to: house, cable: batt-8, length: 2 m}\n"),
        plan=faulty(SMALL),
    )  # fmt: skip
    assert not found(alternator, SMALL)
    idle = faulty(SMALL).split("  uses:\n")[0]
    assert not found(idle, SMALL)  # a bank that only stands by


# Sun hours that no sky gives.


def test_sun_hours_by_hand() -> None:
    """On the best plane at 30°, a quarter over the clearest air."""
    [finding] = found(faulty(SUN), SUN)
    most = 1.25 * max(clear_sky.best_tilt(30.0, m, clear_sky.CLEAREST_AIR)[1] for m in (6, 7, 8))
    assert f"no sky gives it more than {int(most * 10) / 10:g} h there" in finding.message
    assert finding.level == "warning"
    assert finding.place.line == faulty(SUN)[: faulty(SUN).index("summer: 13 h")].count("\n") + 1


@pytest.mark.parametrize(
    "edit",
    [
        ("summer: 13 h", "summer: 10 h"),
        ("latitude: 30°, ", ""),
        ("winter: 1.5 h, summer: 13 h", "trip: 13 h"),  # nobody knows when
    ],
)
def test_sun_hours_within_reach_or_unknown(edit: tuple[str, str]) -> None:
    plan = edited(edit, plan=faulty(SUN))
    assert not found(edited(("{winter: 3 h, summer: 8 h}", "3 h"), plan=plan), SUN)


def test_a_stated_plane_has_its_own_limit() -> None:
    """2.5 h in December at 52° are possible on raised modules and not on level ones."""
    plan = edited(
        ("latitude: 30°", "latitude: 52°"),
        ("winter: 1.5 h, summer: 13 h", "december: 2.5 h"),
        ("{winter: 3 h, summer: 8 h}", "3 h"),
        plan=faulty(SUN),
    )
    assert not found(plan, SUN)
    level = edited(("mounting: roof-gap", "mounting: roof-gap, tilt: 0°"), plan=plan)
    assert levels(level, SUN) == ["warning"]
    raised = edited(("tilt: 0°", "tilt: 70°, facing: south"), plan=level)
    assert not found(raised, SUN)
    away = edited(("facing: south", "facing: north"), plan=raised)
    assert levels(away, SUN) == ["warning"]
