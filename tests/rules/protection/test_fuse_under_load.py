"""The rating of a fuse or breaker against the current that it carries for hours."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, build, found, found_beside_all

LOADED = "fuse-under-load"
ONE = RULES.rules[LOADED].sound


@pytest.mark.parametrize(
    ("code", "style", "rating", "fires"),
    [
        ("nec-2023", "class-t", "37.5 A", False),  # at it: 1.25 × 30 A
        ("nec-2023", "class-t", "37.4 A", True),
        ("iec", "class-t", "30 A", False),
        ("iec", "class-t", "29 A", True),
        ("as-nzs-3001", "class-t", "30 A", False),
        ("as-nzs-3001", "class-t", "29 A", True),
        ("iec", "blade", "37.5 A", False),
        ("iec", "blade", "37 A", True),
    ],
)
def test_rating_against_lasting_current(code: str, style: str, rating: str, fires: bool) -> None:
    plan = edited(
        ("code: nec-2023", f"code: {code}"),
        ("rating: 40 A, voltage: 125 V, style: class-t", f"rating: {rating}, voltage: 32 V, "
         f"style: {style}"),
        plan=ONE,
    )  # fmt: skip
    findings = [f for f in found(plan, LOADED) if f.subjects == ("charge-fuse",)]
    assert [f.level for f in findings] == (["warning"] if fires else [])


def test_a_rating_that_bears_it() -> None:
    plan = edited(("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 30 A"), plan=ONE)
    [finding] = found(plan, LOADED)
    assert "carries 30 A for long; it should be rated at least 37.5 A" in finding.message
    assert finding.remedy.startswith("use 40 A")
    assert not found(ONE, LOADED)


def test_string_fuses_have_a_rule_of_their_own() -> None:
    from_strings = RULES.rules["string-fuse-too-small"]
    assert not found(from_strings.faulty.of(from_strings.sound), LOADED)


def test_a_rating_beyond_its_style_needs_a_larger_style() -> None:
    """A blade of 40 A is the largest, and 56 A of a hut's inverter ask for 80 A."""
    inverter = "  lamps: {current: 52 A, nominal: 12 V}"
    plan = edited(
        ("  lamps: {current: 3 A, nominal: 12 V}", inverter),
        ("load_current: 20 A", "load_current: 60 A"),
        plan=build("cabin-pulse-width-gel"),
    )
    told = [f for f in found(plan, "fuse-under-load") if f.subjects[0] == "bat-fuse"]
    assert "of the larger style (`large-blade`)" in told[0].remedy


@pytest.mark.parametrize(
    ("rating", "level"),
    [("31 A", None), ("30.9 A", "note"), ("28.4 A", "note"), ("28.3 A", "warning")],
)
def test_the_most_of_a_cold_moment_is_held_for_minutes(rating: str, level: str | None) -> None:
    """34.05 A: a fuse holds 1.1 times its rating for days, and seldom opens at 1.2 in minutes."""
    plan = edited(
        ("code: nec-2023\n", ""),
        ("max_output_current: 30 A", "max_output_current: 60 A"),
        ("charge-fuse: {rating: 40 A", f"charge-fuse: {{rating: {rating}"),
        plan=ONE,
    )
    told = found(plan, LOADED)
    assert [f.level for f in told] == ([level] if level else [])
    by_code = edited(("setting: vehicle\n", "setting: vehicle\ncode: nec-2023\n"), plan=plan)
    assert [f.level for f in found(by_code, LOADED)] == ["warning"]


def test_a_switch_behind_it_has_to_stand_the_larger_fuse_too() -> None:
    """320 A for good ask for 350 A, and the switch of the thruster is rated 300 A."""
    plan = edited((", short_duty: 2 min", ""), plan=build("boat-thruster-and-windlass"))
    [finding] = [f for f in found(plan, LOADED) if f.subjects == ("thruster-fuse",)]
    assert "use 350 A" in finding.remedy
    assert finding.remedy.endswith("with `bow-off` rated at least 350 A")


def test_a_small_plug_is_led_no_larger_fuse() -> None:
    """The charge line of a trailer's plug, for 30 A: the 90 A of an alternator ask for more."""
    plan = """\
wattproof: 1
setting: vehicle
code: iec
datasheets:
  cables:
    line: {size: 35 mm², kind: battery, insulation_temperature: 105 °C}
fuses:
  car-fuse: {rating: 30 A, style: stud-mounted, voltage: 58 V, interrupt: 10 kA}
  trailer-fuse: {rating: 30 A, style: stud-mounted, voltage: 58 V, interrupt: 10 kA}
batteries:
  car: {chemistry: agm, nominal: 12 V, capacity: 80 Ah}
  trailer: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
chargers:
  alternator: {kind: alternator, max_output_current: 90 A}
wires:
  engine: {from: alternator, to: car, cable: line, length: 50 cm}
  charge: {from: car, to: trailer, cable: line, length: 5 m, plug: trailer-7,
           inline: [{car-fuse: {from_end: from, distance: 10 cm}},
                    {trailer-fuse: {from_end: to, distance: 10 cm}}]}
"""
    told = found(plan, LOADED)
    assert {f.subjects[0] for f in told} == {"car-fuse", "trailer-fuse"}
    for finding in told:
        assert "draw less through the plug in `charge`" in finding.remedy
    without = found(plan.replace(", plug: trailer-7", ""), LOADED)
    assert without
    assert all("use 100 A" in finding.remedy for finding in without)


CHARGE_LINE = """\
wattproof: 1
title: A charge line from one engine's battery to another battery
setting: vehicle
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 80 Ah}
  leisure: {chemistry: agm, nominal: 12 V, capacity: 110 Ah}
chargers:
  alt: {kind: alternator, charge_voltage: 14.4 V, max_output_current: 180 A}
switches:
  relay: {rating: 100 A, voltage: 32 V, dc: true, closes_above: 13.3 V}
fuses:
  near: {rating: 30 A, voltage: 32 V, style: blade, dc: true}
  far: {rating: 30 A, voltage: 32 V, style: blade, dc: true}
datasheets:
  cables:
    line: {size: 2.5 mm², kind: automotive}
    strap: {size: 35 mm², kind: battery}
bonds:
  tie: {from: start.negative, to: chassis, cable: strap, length: 50 cm}
  other-tie: {from: leisure.negative, to: chassis, cable: strap, length: 50 cm}
wires:
  engine: {from: alt, to: start, cable: strap, length: 1 m}
  line-run: {from: start.positive, to: leisure.positive, cable: line, length: 6 m, inline: [
    {near: {from_end: from, distance: 15 cm}}, relay, {far: {from_end: to, distance: 15 cm}}]}
"""


def test_a_larger_fuse_for_a_line_bears_what_its_larger_wire_lets_through() -> None:
    """6 mm² lets 78 A through, and what bears that lets 180 A: 225 A, as the remedy says."""
    plan = edited(
        ("size: 2.5 mm²", "size: 6 mm²"), ("6 m, inline", "8 m, inline"), plan=CHARGE_LINE
    )
    [near, far] = found_beside_all(plan, LOADED, tried=True)
    for finding in (near, far):
        assert finding.level == "warning"
        assert "use 225 A" in finding.remedy
        assert finding.remedy.endswith("or have a vehicle charger draw 24 A there")
        assert any(trial.clears for trial in finding.trials)
        brought = [each.rule for trial in finding.trials for each in trial.brings]
        assert LOADED not in brought


def test_a_line_lets_less_through_once_the_battery_is_no_longer_empty() -> None:
    """40 A into an empty battery, and by (14.4 - 13.0) / (14.4 - 12.0) of it 24 A minutes later."""
    for finding in found(CHARGE_LINE, LOADED):
        assert finding.level == "note"
        assert "for minutes at a time" in finding.message
    smaller = edited(("near: {rating: 30 A", "near: {rating: 20 A"), plan=CHARGE_LINE)
    by_name = {finding.subjects[0]: finding.level for finding in found(smaller, LOADED)}
    assert by_name == {"near": "warning", "far": "note"}


@pytest.mark.parametrize(
    ("capacity", "rating", "level"),
    [("110 Ah", "120 A", "note"), ("110 Ah", "110 A", "warning"), ("260 Ah", "120 A", "warning")],
)
def test_a_battery_takes_less_than_a_short_thick_line_lets_through(
    capacity: str, rating: str, level: str
) -> None:
    """180 A, of which lead takes half its capacity in amperes minutes later: 55 A, or 130 A."""
    plan = edited(
        ("size: 2.5 mm²", "size: 35 mm²"),
        ("capacity: 110 Ah", f"capacity: {capacity}"),
        ("near: {rating: 30 A, voltage: 32 V, style: blade",
         f"near: {{rating: {rating}, voltage: 32 V, style: wide-strip"),
        plan=CHARGE_LINE,
    )  # fmt: skip
    by_name = {finding.subjects[0]: finding.level for finding in found(plan, LOADED)}
    assert by_name["near"] == level
