"""Readings in the plan language: what may be read where, and each mistake in plain words."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.plan import load_plan
from wattproof.source import PlanUnusable, Problem


def plan_with(reading: str, name: str = "first") -> str:
    joint = "combiners:\n  joint: {joins: [roof-string], rating: 30 A}\nfuses:\n"
    plan = edited(
        ("fuses:\n", joint),
        ("from: roof-string", "from: joint"),
    )
    return plan + f"readings:\n  {name}: {reading}\n"


def problems(reading: str, name: str = "first") -> list[Problem]:
    with pytest.raises(PlanUnusable) as caught:
        load_plan("plan.yaml", text=plan_with(reading, name))
    return caught.value.problems


def test_a_reading_with_everything_is_read() -> None:
    text = plan_with(
        '{at: tracker.pv, taken: "3 June, noon", voc: 68 V, isc: 5 A, voltage: 55 V, current: 4 A, '
        "irradiance: 0.85 kW/m², back_temperature: 118 °F, air_temperature: 25 °C, stage: bulk, "
        "meter: {voltage: 0.5 %, current: 2 %, zero: 0 A, irradiance: 5 %}}"
    )
    reading = load_plan("plan.yaml", text=text).readings["first"]
    assert reading.at_terminal == "tracker.pv"
    assert reading.voc is not None
    assert (reading.voc.value, str(reading.voc)) == (68.0, "68 V")
    assert reading.voc.place.line == text.count("\n")
    assert reading.irradiance is not None
    assert reading.irradiance.value == pytest.approx(850.0)
    assert reading.back_temperature is not None
    assert reading.back_temperature.value == pytest.approx(47.78, abs=0.01)
    assert reading.meter is not None
    assert reading.meter.zero is not None
    assert reading.meter.zero.value == 0.0


@pytest.mark.parametrize("text", ["-68 V", "−68 V", "0 V", "+68 V", "68000 mV"])
def test_a_sign_and_nothing_are_readings_too(text: str) -> None:
    plan = load_plan("plan.yaml", text=plan_with(f"{{at: roof-string, voc: {text}}}"))
    assert plan.readings["first"].voc is not None


@pytest.mark.parametrize(
    ("at", "read"),
    [
        ("roof-string", "voc: 60 V, isc: 5 A, current: 4 A"),
        ("joint", "voc: 60 V, isc: 5 A"),
        ("joint", "drop: 0 V, current: 4 A"),
        ("tracker.pv", "voltage: 55 V, current: 4 A"),
        ("tracker.battery", "voltage: 14.2 V, posts_voltage: 14.1 V, current: 9 A"),
        ("house", "voltage: 14.1 V"),
        ("charge-fuse", "drop: 60 mV, current: 9 A"),
        ("charge-fuse", "joint_temperature: 40 °C, air_temperature: 25 °C"),
    ],
)
def test_what_is_read_where(at: str, read: str) -> None:
    assert load_plan("plan.yaml", text=plan_with(f"{{at: {at}, {read}}}")).readings


@pytest.mark.parametrize(
    ("reading", "message", "instead"),
    [
        ("{at: rof-string, voc: 60 V}", "no component `rof-string`", "`roof-string`"),
        ("{at: tracker, voc: 60 V}", "several terminals", "tracker.pv"),
        ("{at: tracker.vp, voc: 60 V}", "no terminal `vp`", "tracker.pv"),
        ("{at: home-run, voc: 60 V}", "`home-run` is a wire", "`joint` or `tracker.pv`"),
        ("{voc: 60 V}", "no `at`", "at: port"),
        ("{at: roof-string}", "nothing that a meter showed", "`voc`"),
        ("{at: roof-string, irradiance: 800 W/m²}", "nothing that a meter showed", "`isc`"),
        ("{at: roof-string, isc: 5 A, vco: 60 V}", "no key `vco`", "`voc`"),
        ("{at: roof-string, voc: 60}", "no unit", "60 V"),
        ("{at: roof-string, voc: 60 A}", "not a measured voltage", "`… V`"),
        ("{at: roof-string, voc: '60,5 V'}", "decimal comma", "60.5 V"),
        ("{at: roof-string, isc: nan A}", "not a number", "`… A`"),
        ("{at: roof-string, voc: 60 V, irradiance: 800 W}", "not an irradiance", "`… W/m²`"),
        ("{at: roof-string, voc: 60 V, irradiance: 90000 W/m²}", "brighter than", "1000 W/m²"),
        ("{at: roof-string, voc: 60 V, irradiance: -5 W/m²}", "negative", "5 W/m²"),
        ("{at: roof-string, voc: 60 V, back_temperature: 150 °C}", "no temperature of a", ""),
        ("{at: roof-string, voc: 60 V, air_temperature: 230 °C}", "no temperature of air", ""),
        ("{at: roof-string, voc: 60 V, stage: boost}", "none of bulk", "bulk"),
        ("{at: roof-string, voc: 60 V, meter: good}", "`meter` is `good`", "meter: {voltage:"),
        ("{at: roof-string, voc: 60 V, meter: {volts: 1 %}}", "no key `volts`", "`voltage`"),
        ("{at: tracker.load, voltage: 60 V}", "`voltage` is not read at", "`pv` or `battery`"),
        ("{at: house, voc: 12 V}", "`voc` is not read at `house`", "a string"),
        ("{at: tracker.load, voltage: 12 V}", "not read at `tracker.load`", "a battery"),
        ("{at: chassis, voltage: 12 V}", "not read at `chassis`", "a battery"),
        ("{at: charge-fuse, current: 9 A}", "by itself says nothing", "`drop`"),
        ("{at: house, current: 9 A}", "by itself says nothing", "`voltage`"),
        ("{at: tracker.battery, posts_voltage: 14 V}", "compared with the voltage", "`voltage`"),
        (
            "{at: charge-fuse, joint_temperature: 40 °C}",
            "only beside that of the air",
            "air_temperature",
        ),
        ("[60 V]", "under keys", ""),
    ],
)
def test_a_mistake_is_one_problem_on_its_line(reading: str, message: str, instead: str) -> None:
    (problem,) = problems(reading)
    assert message in problem.message
    assert instead in problem.instead
    assert problem.place.line == plan_with(reading).count("\n")


def test_a_reading_does_not_take_the_name_of_a_component() -> None:
    (problem,) = problems("{at: house, voltage: 13 V}", name="house")
    assert "`house` stands twice" in problem.message


def test_a_reading_of_what_could_not_be_read_is_not_called_missing() -> None:
    text = plan_with("{at: roof-string, voc: 60 V}").replace("series: 3", "series: 0")
    with pytest.raises(PlanUnusable) as caught:
        load_plan("plan.yaml", text=text)
    (problem,) = caught.value.problems
    assert "whole number" in problem.message


@pytest.mark.parametrize(
    ("written", "instead"),
    [
        ("open_circuit_voltage: 72 V", "write `voc`"),
        ("short_circuit: 5 A", "write `isc`"),
        ("volts: 60 V", "write `voltage`"),
        ("amps: 5 A", "write `current`"),
        ("sun: 800 W/m²", "write `irradiance`"),
        ("module_temperature: 40 °C", "write `back_temperature`"),
        ("weather: clear", "write `sky`"),
        ("mode: bulk", "write `stage`"),
        ("insulation: 5 MΩ", "keep it on the sheet that `wattproof expect` prints"),
        ("polarity: right", "with the minus that the meter shows"),
        ("battery_voltage: 13 V", "the battery terminals of its controller"),
        ("stage: cv", "write `absorption`"),
        ("stage: absorbtion", "write `absorption`"),
        ("stage: boost", "`bulk` where it takes all"),
        ("sky: cloudy", "else leave `sky` out"),
    ],
)
def test_other_words_for_what_a_meter_showed(written: str, instead: str) -> None:
    told = problems(f"{{at: roof-string, {written}}}")
    assert any(instead in problem.instead for problem in told), told


def test_the_place_of_a_reading_by_other_words() -> None:
    for word in ("where", "place", "location"):
        [problem] = problems(f"{{{word}: roof-string, voc: 72 V}}")
        assert problem.instead == "write `at`"


def test_a_key_of_another_part_is_told_with_the_sections_of_a_plan() -> None:
    [problem] = problems("{at: roof-string, voc: 72 V, tilt: 30°}")
    assert problem.instead.startswith("it is told of `strings`; the keys here are at, ")
