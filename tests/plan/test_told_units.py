"""One unit system a plan: that of its own values."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES
from wattproof.engine import Result, check_file
from wattproof.plan import load_plan
from wattproof.plan.told_units import ToldUnits, units_of
from wattproof.testing import A_DAY

AMERICAN = ToldUnits(feet=True, gauges=True, fahrenheit=True)
PLAN = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: 0 °F, hottest: 104 °F}
datasheets:
  modules: {m100: {pmax: 100 W, voc: 22 V, isc: 6 A, vmp: 18 V, imp: 5.5 A}}
  cables: {ten: {size: 10 AWG}}
strings: {roof: {module: m100, series: 4, mounting: roof-bonded}}
controllers: {tracker: {kind: mppt, max_input_voltage: 75 V, max_output_current: 30 A}}
batteries: {house: {chemistry: LiFePO4, nominal: 12.8 V, capacity: 100 Ah}}
wires:
  roof-run: {from: roof, to: tracker.pv, cable: ten, length: 30 ft}
  charge-run: {from: tracker.battery, to: house, cable: ten, length: 12 ft}
"""


def checked(text: str) -> Result:
    return check_file("plan.yaml", RULES, today=A_DAY, text=text)


def test_units_are_those_of_most_values() -> None:
    assert units_of(load_plan("plan.yaml", text=PLAN)) == AMERICAN
    assert units_of(load_plan("plan.yaml", text=edited())).fahrenheit is False
    assert units_of(load_plan("plan.yaml", text="wattproof: 1\nsetting: boat\n")) == ToldUnits()


@pytest.mark.parametrize(
    ("metric", "american"),
    [
        (
            "gets as cold as −18 °C, and 0 °C is the least",
            "gets as cold as 0 °F, and 32 °F is the least",
        ),
        ("between 0 °C and 45 °C", "between 32 °F and 113 °F"),
        ("take 5 to 45 °C for it", "take 41 to 113 °F for it"),
        ("within 0.46 m of `house`", "within 18 in of `house`"),
        ("at most 3 m long", "at most 9.84 ft long"),
        ("it sits 15 cm from it", "it sits 6 in from it"),
        ("`feed` (6.4 mm²) carries", "`feed` (about 10 AWG) carries"),
        ("0.06 %/°C of 3 mΩ/m at 2 m²", "0.06 %/°C of 3 mΩ/m at 2 m²"),
        ("its insulation stands 60 °C", "its insulation stands 60 °C"),
        ("is that 140 °F?", "is that 140 °F?"),
        ("140 °F would be 60 °C", "140 °F would be 60 °C"),
    ],
)
def test_what_is_said_has_the_units_of_the_plan(metric: str, american: str) -> None:
    assert AMERICAN.said(metric) == american
    assert ToldUnits().said(metric) == metric


@pytest.mark.parametrize(
    ("metric", "american"),
    [
        *(("0 °C", "32 °F"), ("-10 °C", "14 °F"), ("100 A", "100 A"), ("2p", "2p")),
        *(("1 m", "3.28 ft"), ("10 cm", "3 in"), ("30 cm", "11 in"), ("2 cm", "0.06 ft")),
    ],
)
def test_what_is_written_has_them_too_and_is_never_longer(metric: str, american: str) -> None:
    assert AMERICAN.written(metric) == american


def test_findings_and_remedies_of_a_plan_in_feet_speak_of_no_metre_and_no_celsius() -> None:
    result = checked(PLAN)
    rules = {finding.rule for finding in result.each}
    assert {"charge-below-freezing", "voltage-drop-high", "battery-fuse-missing"} <= rules
    for finding in result.each:
        for text in (finding.message, finding.remedy):
            assert "°C" not in text
            assert " m " not in text
        for change in (change for way in finding.ways for change in way):
            assert "°C" not in str(change)
            assert not str(change).split("`")[1].endswith(" m")
    assert not result.failed


def test_a_plan_that_tells_no_lengths_in_feet_keeps_metres() -> None:
    result = checked(PLAN.replace("30 ft", "9 m").replace("12 ft", "4 m"))
    [missing] = [f for f in result.each if f.rule == "battery-fuse-missing"]
    assert "0.46 m" in missing.remedy


@pytest.mark.parametrize(("size", "feet"), [("10 AWG", True), ("6 mm²", False)])
def test_without_a_length_the_sizes_tell_what_it_would_be_in(size: str, feet: bool) -> None:
    plan = edited(("length: 4 m", "length: unknown"), ("length: 1 m", "length: unknown"))
    plan = plan.replace("size: 10 AWG", f"size: {size}").replace("size: 8 AWG", f"size: {size}")
    assert units_of(load_plan("plan.yaml", text=plan)).feet is feet
