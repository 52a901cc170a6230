"""Rules on what fuses and breakers can do: break, bear, face; and what busbars carry."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.codes import known
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.testing import check_examples, check_text, study_of

RULES = discover()
LOW = "fuse-interrupt-low"
CONFUSED = "fuse-style-confused"
LOADED = "fuse-under-load"
POLARITY = "breaker-polarity"
BAR = "busbar-over-rating"
BANK = RULES.rules[LOW].sound
"""A bank of 8 kA on 1/0 AWG, fuse at 10 cm; a bar, an inverter of 800 W, a tracker of 30 A."""
ONE = RULES.rules[LOADED].sound
FACING = RULES.rules[POLARITY].sound


def found(plan: str, rule: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


@pytest.mark.parametrize("rule", [LOW, CONFUSED, LOADED, POLARITY, BAR])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# What a device can break.

AT_POST = (
    "bank-fuse: {from_end: from, distance: 10 cm}",
    "bank-fuse: {from_end: from, distance: 0.01 mm}",
)
BANK_FUSE = "bank-fuse: {rating: 150 A, voltage: 125 V, style: class-t, interrupt: 20 kA"
CHARGE_FUSE = "charge-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA"


def bank_fuse(text: str) -> tuple[str, str]:
    return BANK_FUSE, f"bank-fuse: {{rating: 150 A, {text}"


def charge_fuse(text: str) -> tuple[str, str]:
    return CHARGE_FUSE, f"charge-fuse: {{rating: 40 A, {text}"


@pytest.mark.parametrize(
    ("interrupt", "fires"), [("8 kA", False), ("7.99 kA", True), ("8.01 kA", False)]
)
def test_at_the_post_the_whole_short_circuit_current_counts(interrupt: str, fires: bool) -> None:
    plan = edited(AT_POST, bank_fuse(f"voltage: 125 V, interrupt: {interrupt}"), plan=BANK)
    findings = found(plan, LOW)
    assert [(f.level, f.subjects) for f in findings] == (
        [("error", ("bank-fuse",))] if fires else []
    )


def test_the_cable_before_it_lowers_the_current() -> None:
    [duty] = [d for d in study_of(BANK).protection.duties if d.name == "bank-fuse"]
    # 13.4 V / 8 kA = 1.675 mΩ; 10 cm of 1/0 AWG at 20 °C, there and back: 0.2 m × 0.33 mΩ/m
    assert duty.prospective.number == pytest.approx(13.4 / (13.4 / 8000 + 0.066e-3), rel=2e-3)
    [finding] = found(edited(bank_fuse("voltage: 32 V, interrupt: 2 kA"), plan=BANK), LOW)
    assert "can break 2 kA, and a short there drives 7697 A" in finding.message
    assert finding.margin == pytest.approx(1 - 7697 / 2000, abs=1e-3)
    assert "use a stud-mounted fuse" in finding.remedy
    assert "which can break 10 kA" in finding.remedy
    stud = edited(bank_fuse("voltage: 14 V, style: stud-mounted"), plan=BANK)
    assert not found(stud, LOW)


def test_a_bank_in_parallel_adds_up() -> None:
    plan = edited(("capacity: 200 Ah,", "capacity: 200 Ah, arrangement: 3p,"), AT_POST, plan=BANK)
    [bank] = [f for f in found(plan, LOW) if f.subjects == ("bank-fuse",)]
    assert "can break 20 kA, and a short there drives 24 kA" in bank.message
    assert "divide the bank" in bank.remedy


def test_batteries_with_a_fuse_each_feed_a_short_past_each_fuse_apart() -> None:
    second = "house: {chemistry"
    plan = edited(
        ("fuses:\n", "fuses:\n  other-fuse: {rating: 150 A, voltage: 125 V, interrupt: 9 kA}\n"),
        (f"  {second}", "  other: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, "
         f"capacity: 200 Ah, short_circuit_current: 8 kA}}\n  {second}"),
        ("wires:\n", "wires:\n  other-run: {from: other, to: main-bar, cable: batt-1-0, "
         "length: 0.5 m, place: cabin, "
         "inline: [{other-fuse: {from_end: from, distance: 10 cm}}]}\n"),
        bank_fuse("voltage: 125 V, interrupt: 9 kA"),
        plan=BANK,
    )  # fmt: skip
    assert {f.subjects for f in found(plan, LOW)} == set()  # 8 kA past each of them, not 16 kA
    charge = edited(charge_fuse("voltage: 125 V, interrupt: 7 kA"), plan=plan)
    [finding] = found(charge, LOW)  # both feed a short behind the bar
    assert (finding.level, finding.subjects) == ("warning", ("charge-fuse",))
    assert "`other-fuse`" in finding.message
    assert "`bank-fuse`" in finding.message


def test_behind_a_device_that_can_break_it_a_warning_that_names_it() -> None:
    plan = edited(charge_fuse("voltage: 58 V, interrupt: 2 kA"), plan=BANK)
    [finding] = found(plan, LOW)
    assert finding.level == "warning"
    assert "`bank-fuse` before it can break that" in finding.message
    assert "combination with `bank-fuse`" in finding.remedy
    both = edited(bank_fuse("voltage: 58 V, interrupt: 2 kA"), plan=plan)
    assert [f.level for f in found(both, LOW)] == ["error", "error"]


def test_a_long_thin_cable_makes_a_small_device_enough() -> None:
    plan = edited(
        ("fuses:\n", "fuses:\n  lamp-fuse: {rating: 15 A, voltage: 32 V, style: blade}\n"),
        ("inverters:\n", "loads: {lamp: {current: 3 A}}\ninverters:\n"),
        ("wires:\n", "wires:\n  lamp-run: {from: main-bar, to: lamp, cable: batt-8, length: 9 m, "
         "inline: [{lamp-fuse: {from_end: to, distance: DISTANCE}}]}\n"),
        plan=BANK,
    )  # fmt: skip
    assert [f.subjects for f in found(plan.replace("DISTANCE", "9 m"), LOW)] == [("lamp-fuse",)]
    assert not found(plan.replace("DISTANCE", "10 cm"), LOW)  # 8.9 m × 2.1 mΩ/m: under 1 kA


def test_the_ways_of_a_panel_are_one_finding() -> None:
    plan = edited(
        ("inverters:\n", "distribution: {panel: {voltage: 32 V, ways: {a: {fuse: 10 A, "
         "style: blade}, b: {fuse: 5 A, style: blade}}}}\n"
         "loads: {lamp: {current: 3 A}, fan: {current: 2 A}}\ninverters:\n"),
        ("fuses:\n", "fuses:\n  feed-fuse: {rating: 40 A, voltage: 125 V, interrupt: 20 kA}\n"),
        ("wires:\n", "wires:\n  feed: {from: main-bar, to: panel, cable: batt-8, length: 0.5 m, "
         "inline: [{feed-fuse: {from_end: from, distance: 10 cm}}]}\n"
         "  lamp-run: {from: panel.a, to: lamp, cable: batt-8, length: 1 m}\n"
         "  fan-run: {from: panel.b, to: fan, cable: batt-8, length: 1 m}\n"),
        plan=BANK,
    )  # fmt: skip
    [finding] = found(plan, LOW)
    assert (finding.level, finding.subjects) == ("warning", ("panel",))
    assert "`feed-fuse` before it" in finding.message


def test_missing_ratings_and_styles() -> None:
    unknown = edited(bank_fuse("voltage: 125 V"), plan=BANK)
    [finding] = found(unknown, LOW)
    assert (finding.level, finding.certainty) == ("warning", "undecided")
    assert "write its `interrupt` rating, or its `style`" in finding.remedy
    behind = edited(charge_fuse("voltage: 125 V"), plan=BANK)
    assert [(f.level, f.certainty) for f in found(behind, LOW)] == [("note", "undecided")]
    styled = edited(bank_fuse("voltage: 32 V, style: wide-strip"), plan=BANK)
    [finding] = found(styled, LOW)  # 6 kA by its style, which a maker may exceed
    assert (finding.level, finding.certainty) == ("warning", "assumed")
    hopeless = edited(bank_fuse("voltage: 32 V, style: bolt-down"), plan=BANK)
    assert [f.level for f in found(hopeless, LOW)] == ["error"]  # twice 2 kA is not enough either


def test_a_battery_that_does_not_say_is_assumed() -> None:
    plan = edited((", short_circuit_current: 8 kA", ""), AT_POST, plan=BANK)
    [duty] = [d for d in study_of(plan).protection.duties if d.name == "bank-fuse"]
    assert duty.prospective.number == pytest.approx(12000, rel=1e-4)  # 60 A × 200 Ah
    doubtful = edited(bank_fuse("voltage: 125 V, interrupt: 10 kA"), plan=plan)
    assert [f.level for f in found(doubtful, LOW)] == ["warning"]
    certain = edited(bank_fuse("voltage: 125 V, interrupt: 2 kA"), plan=plan)
    assert [f.level for f in found(certain, LOW)] == ["error"]  # 0.4 × 12 kA is too much as well


def test_a_device_for_alternating_current_is_told_by_another_rule() -> None:
    plan = BANK.replace("interrupt: 20 kA, dc: true", "interrupt: 2 kA, dc: false")
    assert not found(plan, LOW)


@pytest.mark.parametrize("code", known())
def test_every_body_has_a_basis(code: str) -> None:
    plan = edited(("code: nec-2023", f"code: {code}"),
                  bank_fuse("voltage: 32 V, interrupt: 2 kA"), plan=BANK)  # fmt: skip
    [finding] = [f for f in found(plan, LOW) if f.subjects == ("bank-fuse",)]
    assert finding.basis


# What is printed on it against its style.


@pytest.mark.parametrize(
    ("printed", "fires"),
    [
        ("style: class-t, interrupt: 100 kA", False),  # five times 20 kA
        ("style: class-t, interrupt: 101 kA", True),
        ("style: bolt-down, interrupt: 10 kA", False),
        ("style: bolt-down, interrupt: 20 kA", True),
        ("style: blade, interrupt: 1 kA", False),  # 40 A, the largest blade
        ("style: mini-blade, interrupt: 1 kA", True),  # up to 30 A
        ("style: cartridge, interrupt: 120 kA", False),  # no usual figure
        ("interrupt: 200 kA", False),  # no style
    ],
)
def test_style_and_figures(printed: str, fires: bool) -> None:
    plan = edited(("style: class-t, interrupt: 20 kA", printed), plan=ONE)
    assert [f.level for f in found(plan, CONFUSED)] == (["warning"] if fires else [])


def test_a_blade_that_is_too_large() -> None:
    large = (CHARGE_FUSE, "charge-fuse: {rating: 60 A, voltage: 32 V, style: blade")
    plan = edited(large, plan=ONE)
    [finding] = found(plan, CONFUSED)
    assert "blade fuse, regular size of 60 A, and that style is made up to 40 A" in finding.message
    assert finding.margin == pytest.approx(-0.5)


# What it bears for long.


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
    assert "carries 30 A for long, and should be rated at least 37.5 A" in finding.message
    assert finding.remedy.startswith("use 40 A")
    assert not found(ONE, LOADED)


def test_string_fuses_have_a_rule_of_their_own() -> None:
    from_strings = RULES.rules["string-fuse-too-small"]
    assert not found(from_strings.faulty.of(from_strings.sound), LOADED)


# Which way it faces.


@pytest.mark.parametrize(("polarised", "fires"), [("true", True), ("false", False)])
def test_between_charger_and_battery_nothing_polarised(polarised: str, fires: bool) -> None:
    plan = edited(("polarised: false", f"polarised: {polarised}"), plan=FACING)
    findings = found(plan, POLARITY)
    assert [f.level for f in findings] == (["error"] if fires else [])
    if fires:
        assert "`house` feeds `mains`" not in findings[0].message
        assert "`tracker` feeds `house`" in findings[0].message
        assert "not polarised" in findings[0].remedy


@pytest.mark.parametrize(("ends", "fires"), [(("line", "load"), False), (("load", "line"), True)])
def test_towards_a_load_the_line_side_faces_the_battery(ends: tuple[str, str], fires: bool) -> None:
    near, far = ends
    plan = edited(
        ("breakers:\n", "breakers:\n  main: {rating: 125 A, voltage: 125 V, interrupt: 10 kA, "
         "dc: true, polarised: true}\n"),
        ("  inverter-run: {from: main-bar, to: mains,",
         f"  to-breaker: {{from: main-bar, to: main.{near}, cable: batt-1-0, length: 0.2 m}}\n"
         f"  inverter-run: {{from: main.{far}, to: mains,"),
        plan=FACING,
    )  # fmt: skip
    findings = found(plan, POLARITY)
    assert [f.subjects for f in findings] == ([("main",)] if fires else [])
    if fires:
        assert "mounted the wrong way round" in findings[0].message
        assert "swap the wires" in findings[0].remedy


def test_a_string_breaker_meets_the_other_strings_current() -> None:
    strings = RULES.rules["string-fuse-too-small"].sound
    plan = edited(
        ("fuses:\n  port-fuse: {rating: 15 A, voltage: 1000 V, style: gpv, interrupt: 10 kA, "
         "dc: true}\n",
         "breakers:\n  port-fuse: {rating: 15 A, voltage: 1000 V, interrupt: 10 kA, dc: true, "
         "polarised: true}\nfuses:\n"),
        plan=strings,
    )  # fmt: skip
    [finding] = found(plan, POLARITY)
    assert finding.subjects == ("port-fuse",)
    assert "the other strings" in finding.message


# Busbars.


@pytest.mark.parametrize(
    ("rating", "level"),
    [
        ("80.9 A", None),  # 800 W / (0.9 × 11 V) = 80.8 A
        ("80.7 A", "error"),
        ("40 A", "error"),
    ],
)
def test_a_bar_that_feeds_an_inverter(rating: str, level: str | None) -> None:
    plan = edited(("main-bar: {rating: 150 A", f"main-bar: {{rating: {rating}"), plan=BANK)
    findings = found(plan, BAR)
    assert [f.level for f in findings] == ([level] if level else [])
    if level:
        assert "80.81 A passes through `main-bar`, most of it by `bank-run`" in findings[0].message
        assert "rated at least 81 A" in findings[0].remedy


def test_in_the_middle_a_smaller_bar_would_do() -> None:
    """Two inverters of 400 W, 40.4 A each: 80.8 A through the bar, half of it on each side."""
    two = edited(
        ("  mains: {power: 800 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}\n",
         "  mains: {power: 400 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}\n"
         "  other: {power: 400 W, nominal: 12 V, efficiency: 90 %, low_voltage: 11 V}\n"),
        ("wires:\n", "wires:\n  other-run: {from: main-bar, to: other, cable: batt-1-0, "
         "length: 0.6 m, place: cabin}\n"),
        ("main-bar: {rating: 150 A", "main-bar: {rating: RATING"),
        plan=BANK,
    )  # fmt: skip
    [finding] = found(two.replace("RATING", "50 A"), BAR)
    assert finding.level == "warning"
    assert "join `bank-run` in the middle" in finding.remedy
    [finding] = found(two.replace("RATING", "40 A"), BAR)
    assert finding.level == "error"
    assert not found(two.replace("RATING", "81 A"), BAR)


def test_what_charges_counts_as_what_draws_and_they_are_not_added() -> None:
    plan = edited(
        ("wires:\n", "chargers:\n  shore: {kind: shore, max_output_current: 60 A}\nwires:\n  "
         "shore-run: {from: shore, to: main-bar, cable: batt-1-0, length: 1 m, place: cabin}\n"),
        ("main-bar: {rating: 150 A", "main-bar: {rating: 89 A"),
        plan=BANK,
    )  # fmt: skip
    [finding] = found(plan, BAR)
    assert finding.message.startswith("90 A passes through")


def test_a_bar_without_a_rating_is_silent() -> None:
    assert not found(edited(("{rating: 150 A, voltage: 48 V}", "{voltage: 48 V}"), plan=BANK), BAR)


def test_a_bar_that_joins_strings() -> None:
    plan = edited(
        ("  roof-string: {module: rigid-100, series: 3, mounting: roof-gap, place: roof}\n",
         "  port: {module: rigid-100, series: 3, mounting: roof-gap}\n"
         "  star: {module: rigid-100, series: 3, mounting: roof-gap}\n"),
        ("busbars:\n", "busbars:\n  roof-bar: {rating: 12 A}\n"),
        ("from: roof-string,", "from: roof-bar,"),
        ("wires:\n", "wires:\n  port-lead: {from: port, to: roof-bar, cable: pv-10, length: 1 m}\n"
         "  star-lead: {from: star, to: roof-bar, cable: pv-10, length: 1 m}\n"),
        plan=BANK,
    )  # fmt: skip
    [finding] = found(plan, BAR)
    assert finding.message.startswith("13 A passes through `roof-bar`")  # 2 × 1.25 × 5.2 A


def test_where_its_place_is_not_stated_the_whole_current_counts_and_makes_a_warning() -> None:
    place = "{bank-fuse: {from_end: from, distance: 10 cm}}"
    plan = edited((place, "bank-fuse"), bank_fuse("voltage: 32 V, interrupt: 2 kA"), plan=BANK)
    [finding] = found(plan, LOW)
    assert finding.level == "warning"
    assert "as its place is unknown, 8000 A" in finding.message
    assert finding.remedy.startswith("write its distance")
