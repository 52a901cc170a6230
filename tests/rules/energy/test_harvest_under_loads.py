"""What the sun brings in a day against what is used, season by season."""

from __future__ import annotations

import re

import pytest

from plans import BASE, edited
from rule_runs import RULES, faulty, found, levels, sound
from wattproof.packs import RuleSet
from wattproof.physics import clear_sky
from wattproof.testing import check_text

HARVEST = "harvest-under-loads"
AUTONOMY = "autonomy-short"
LYING = "flat-winter-loss"
IDLE = "inverter-idle"
SMALL = "flooded-charge-too-small"
SUN = "sun-hours-over-clear-sky"
ALL = [HARVEST, AUTONOMY, LYING, IDLE, SMALL, SUN]


@pytest.mark.parametrize("rule", ALL)
def test_a_plan_that_says_nothing_of_its_use_is_not_examined(rule: str) -> None:
    assert not found(faulty(rule).split("energy:\n")[0], rule)
    assert not found(BASE, rule)


@pytest.mark.parametrize(
    ("hours", "says"),
    [("4.4 h", ""), ("4.5 h", "it may run down"), ("5.9 h", "it may"), ("6.0 h", "it runs down")],
)
def test_use_against_the_range(hours: str, says: str) -> None:
    """45 W × 4.41 h + 9.2 Wh = 208 Wh; 45 W × 5.94 h + 9.2 Wh = 277 Wh."""
    plan = edited(("winter: 3 h", f"winter: {hours}"), plan=sound(HARVEST))
    findings = found(plan, HARVEST)
    assert len(findings) == bool(says)
    level = "warning" if "runs down" in says else "note"
    assert all(says in f.message and f.level == level for f in findings)


def test_five_per_cent_short_half_short_and_empty_on_the_first_day_are_told_apart() -> None:
    """House gives 1024 Wh from full; the sun brings 277 Wh at most, or a tenth of that."""
    plan = sound(HARVEST)

    def at(watt_hours: float, sun: str = "1.5 h") -> tuple[str, str]:
        edits = (
            (
                "hours: {winter: 3 h, summer: 8 h}",
                f"energy: {{winter: {watt_hours} Wh, summer: 1 Wh}}",
            ),
            ("winter: 1.5 h", f"winter: {sun}"),
        )
        [finding] = found(edited(*edits, plan=plan), HARVEST)
        return finding.level, finding.message

    level, says = at(282.0)
    assert level == "warning"
    assert says.endswith(
        "with 5 % of the use not covered at best, and from full it is empty after 70 days"
    )
    level, says = at(545.0)
    assert level == "warning"
    assert says.endswith(
        "with 50 % of the use not covered at best, and from full it is empty after 3 days"
    )
    level, says = at(1250.0)
    assert level == "warning"
    assert says.endswith("from full it is empty after 1 day")
    level, says = at(1300.0)
    assert level == "error"
    assert says.endswith("from full it is empty on the first day")
    level, says = at(1100.0, sun="0 h")
    assert level == "error"


def test_with_an_alternator_nothing_is_more_than_a_note() -> None:
    other = (
        ("wires:\n", "chargers:\n  alternator: {kind: alternator, max_output_current: 90 A}\n"
         "wires:\n  alternator-run: {from: alternator, to: house, cable: batt-8, length: 2 m}\n"),
        ("hours: {winter: 3 h, summer: 8 h}", "energy: {winter: 2000 Wh, summer: 1 Wh}"),
    )  # fmt: skip
    assert levels(edited(*other, plan=sound(HARVEST)), HARVEST) == ["note"]


def test_harvest_numbers_and_both_remedies_hold() -> None:
    [finding] = found(faulty(HARVEST), HARVEST)
    assert finding.message == (
        "in winter 414 Wh a day are used from `house`, and the sun brings 208 Wh to 277 Wh: "
        "it runs down, with 33 % of the use not covered at best, and from full it is empty after 7 "
        "days"
    )
    assert finding.level == "warning"
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


def test_a_season_that_may_have_too_little_is_not_told_as_one_that_has() -> None:
    """18 h of 41 W in summer lie between the least and the most that comes then; 20 h do not."""
    plan = edited(("summer: 8 h", "summer: 18 h"), plan=faulty(HARVEST))
    [finding] = found(plan, HARVEST)
    assert "it runs down" in finding.message
    assert "(it may too in summer)" in finding.message


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
    assert f"not even the clearest sky brings more than {limit:.0f} Wh" in finding.message
    assert "68 % of the use not covered at best, and not even" in finding.message
    no_hours = edited(("  sun_hours: {december: 0.8 h}\n", ""), plan=dark)
    [by_clearest] = found(no_hours, HARVEST)
    assert f"{limit:.0f} Wh: it runs down, with 8 % of the use" in by_clearest.message
    raised = edited(("tilt: 0°", "tilt: 65°, facing: south"), plan=dark)
    [told] = found(raised, HARVEST)
    assert told.level == "warning"  # by the sun hours that are declared for it
    assert "clearest sky" not in told.message
    unknown = edited((", tilt: 0°", ""), ("sun_hours: {december: 0.8 h}", "sky: dull"), plan=dark)
    assert levels(unknown, HARVEST) == ["warning"]
    nobody = edited(("  sky: dull\n", ""), plan=unknown)
    rack = edited(("mounting: roof-gap", "mounting: open-rack"), plan=nobody)
    assert levels(rack, HARVEST) == ["note"]  # it might be raised, and the sky be clear


def test_what_an_alternator_brings_is_not_known() -> None:
    other = (
        ("wires:\n", "chargers:\n  alternator: {kind: alternator, max_output_current: 90 A}\n"
         "wires:\n  alternator-run: {from: alternator, to: house, cable: batt-8, length: 2 m}\n"),
    )  # fmt: skip
    [finding] = found(edited(*other, plan=faulty(HARVEST)), HARVEST)
    assert finding.message.endswith(
        "with 33 % of the use not covered at best, unless `alternator` brings the rest"
    )
    assert finding.level == "note"


def test_from_the_latitude_alone_it_asks_for_the_sun_hours() -> None:
    plan = edited(
        ("coldest: -18 °C", "latitude: 52°, coldest: -18 °C"),
        ("  sun_hours: {winter: 1.5 h, summer: 5 h}\n", ""),
        plan=sound(HARVEST),
    )
    [finding] = found(plan, HARVEST)
    assert finding.level == "note"
    assert "under a dull sky: it" in finding.message
    assert finding.remedy.endswith(
        "a day in winter under a dull sky; or write the sun hours of the place, from a table, as "
        "`sun_hours`, or what its sky is like as `sky`"
    )


def test_the_remedy_is_for_the_sky_that_is_told() -> None:
    """Under a sunny sky the same use needs fewer modules than under a dull one."""
    plan = edited(
        ("coldest: -18 °C", "latitude: 36°, coldest: -18 °C"),
        ("sun_hours: {winter: 1.5 h, summer: 5 h}", "sky: SKY"),
        ("{winter: 3 h, summer: 8 h}", "{winter: 12 h}"),
        plan=sound(HARVEST),
    )
    wanted = {}
    for sky in ("sunny", "mixed", "dull"):
        [finding] = found(plan.replace("SKY", sky), HARVEST)
        assert finding.remedy.endswith(f"under a {sky} sky")
        assert f"under a {sky} sky" in finding.message
        [number] = re.findall(r"use ([0-9]+) modules", finding.remedy)
        wanted[sky] = int(number)
    assert wanted["sunny"] < wanted["mixed"] < wanted["dull"]
    assert wanted["dull"] > 2 * wanted["sunny"]


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
