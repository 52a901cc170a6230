"""What is printed on a fuse against what its style is made for."""

from __future__ import annotations

from pathlib import Path

import pytest

from plans import edited
from rule_runs import RULES, found, sound

CONFUSED = "fuse-style-confused"
LOADED = "fuse-under-load"
ONE = RULES.rules[LOADED].sound
CHARGE_FUSE = "charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA"


@pytest.mark.parametrize(
    ("printed", "fires"),
    [
        ("style: class-t, interrupt: 100 kA", False),  # five times 20 kA
        ("style: class-t, interrupt: 101 kA", True),
        ("style: bolt-down, interrupt: 10 kA", False),
        ("style: bolt-down, interrupt: 20 kA", True),
        ("style: blade, interrupt: 1 kA", False),  # 40 A, the largest blade
        ("style: mini-blade, interrupt: 1 kA", True),  # up to 30 A
        ("style: stud-mounted, interrupt: 10 kA", False),  # at 12 V
        ("style: stud-mounted, interrupt: 20 kA", True),
        ("style: cartridge, interrupt: 120 kA", False),  # no usual figure
        ("interrupt: 200 kA", False),  # no style
    ],
)
def test_style_and_figures(printed: str, fires: bool) -> None:
    label = "voltage: 125 V, style: class-t, interrupt: 20 kA"
    plan = edited((label, f"voltage: 58 V, {printed}"), plan=ONE)
    assert [f.level for f in found(plan, CONFUSED)] == (["warning"] if fires else [])


def test_a_blade_that_is_too_large() -> None:
    large = (CHARGE_FUSE, "charge-fuse: {rating: 60 A, voltage: 32 V, style: blade")
    plan = edited(large, plan=ONE)
    [finding] = found(plan, CONFUSED)
    assert "blade fuse, regular size of 60 A, and that style is made up to 40 A" in finding.message
    assert finding.margin == pytest.approx(-0.5)


@pytest.mark.parametrize(
    ("rating", "voltage", "fires"),
    [
        (15, "voltage: 250 V", False),
        (30, "voltage: 250 V", True),  # glass for mains is made up to 16 A
        (30, "voltage: 32 V", False),  # that of vehicles up to 60 A
        (30, "dc: true", False),
        (60, "dc: true", False),
        (80, "dc: true", True),
    ],
)
def test_glass_of_vehicles_is_made_larger(rating: int, voltage: str, fires: bool) -> None:
    glass = (CHARGE_FUSE, f"charge-fuse: {{rating: {rating} A, {voltage}, style: glass")
    plan = edited(glass, plan=ONE.replace(", dc: true}", "}", 1) if "dc" in voltage else ONE)
    assert bool(found(plan, CONFUSED)) == fires


@pytest.mark.parametrize(
    ("printed", "fires"),
    [
        ("style: stud-mounted, voltage: 58 V", False),
        ("style: stud-mounted, voltage: 125 V", True),
        ("style: bolt-down, voltage: 80 V", False),
        ("style: bolt-down, voltage: 125 V", True),
        ("style: blade, voltage: 500 V", True),
        ("style: wide-strip, voltage: 125 V", False),
        ("style: class-t, voltage: 160 V", False),
        ("style: gpv-bolted, voltage: 1500 V", False),
        ("voltage: 500 V", False),  # of no style
    ],
)
def test_a_voltage_that_no_fuse_of_its_shape_stands(printed: str, fires: bool) -> None:
    plan = edited(("voltage: 125 V, style: class-t, interrupt: 20 kA", printed), plan=ONE)
    assert len(found(plan, CONFUSED)) == fires


def test_a_stud_fuse_with_the_figures_of_another_style() -> None:
    stud = ("style: class-t, interrupt: 20 kA", "style: stud-mounted, interrupt: 20 kA")
    [finding] = found(edited(stud, plan=ONE), CONFUSED)
    assert "`charge-fuse` is told to stand 125 V DC" in finding.message
    assert "is made up to 60 V" in finding.message


@pytest.mark.parametrize(("breaks", "fires"), [("5 kA", False), ("10 kA", True)])
def test_a_figure_of_a_lower_voltage(breaks: str, fires: bool) -> None:
    """A stud-mounted fuse breaks 10 kA up to 14 V, and 5 kA of a bank of 24 V."""
    base = Path(__file__).parents[2] / "sound/boat-twenty-four-volt.yaml"
    main = "main-fuse: {rating: 125 A, style: stud-mounted, voltage: 58 V, dc: true, interrupt: "
    text = base.read_text(encoding="utf-8")
    plan = edited((f"{main}5 kA", f"{main}{breaks}"), plan=text)
    assert bool(found(plan, CONFUSED)) == fires


def test_the_fuse_that_each_pack_has() -> None:
    each = sound("pack-fuse-unfit")
    assert not found(each, CONFUSED)
    pack = "pack-fuse: {rating: 100 A, voltage: 125 V, style: class-t, interrupt: "
    [finding] = found(edited((f"{pack}20 kA", f"{pack}200 kA"), plan=each), CONFUSED)
    assert finding.subjects == ("pack-fuse",)


def test_a_rating_that_nobody_told_is_one_of_its_style() -> None:
    plan = """
wattproof: 1
setting: vehicle
batteries: {house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}}
inverters: {mains: {power: 2000 W, nominal: 12 V}}
fuses: {main: {style: blade}}
wires:
  run: {from: house, to: mains, length: 1 m, inline: [{main: {from_end: from}}]}
"""
    assert not found(plan, "fuse-style-confused")
