"""The rating of a fuse or breaker against the current that it carries for hours."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, build, found

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
