"""What a fuse or breaker can break against the current of a short where it sits."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, faulty, found
from rules.wiring.plans import BANK
from wattproof.codes import known
from wattproof.testing import study_of

LOW = "fuse-interrupt-low"
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
    assert "can break 2 kA; a short there drives 7700 A" in finding.message
    assert finding.margin == pytest.approx(1 - 7697 / 2000, abs=1e-3)
    assert "use a stud-mounted fuse" in finding.remedy
    assert "which can break 10 kA" in finding.remedy
    stud = edited(bank_fuse("voltage: 14 V, style: stud-mounted"), plan=BANK)
    assert not found(stud, LOW)


def test_a_bank_in_parallel_adds_up() -> None:
    plan = edited(("capacity: 200 Ah,", "capacity: 200 Ah, arrangement: 3p,"), AT_POST, plan=BANK)
    [bank] = [f for f in found(plan, LOW) if f.subjects == ("bank-fuse",)]
    assert "can break 20 kA; a short there drives 24 kA" in bank.message
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
    assert (finding.level, finding.subjects) == ("note", ("charge-fuse",))
    assert "`other-fuse`" in finding.message
    assert "`bank-fuse`" in finding.message


def test_behind_a_device_that_can_break_it_a_note_that_names_it() -> None:
    plan = edited(charge_fuse("voltage: 58 V, interrupt: 2 kA"), plan=BANK)
    [finding] = found(plan, LOW)
    assert finding.level == "note"
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
    assert (finding.level, finding.subjects) == ("note", ("panel",))
    assert "`feed-fuse` before it" in finding.message


def test_missing_ratings_and_styles() -> None:
    unknown = edited(bank_fuse("voltage: 125 V"), plan=BANK)
    assert not found(unknown, LOW)  # what nobody told is a question
    assert asked(unknown, LOW) == ["interrupt rating"]
    styled = edited(bank_fuse("voltage: 32 V, style: wide-strip"), plan=BANK)
    [finding] = found(styled, LOW)  # 6 kA by its style, which a maker may exceed
    assert (finding.level, finding.verdict) == ("warning", "likely")
    hopeless = edited(bank_fuse("voltage: 32 V, style: bolt-down"), plan=BANK)
    assert [f.level for f in found(hopeless, LOW)] == ["error"]  # twice 2 kA is not enough either


def test_a_battery_that_does_not_say_is_assumed() -> None:
    plan = edited((", short_circuit_current: 8 kA", ""), AT_POST, plan=BANK)
    [duty] = [d for d in study_of(plan).protection.duties if d.name == "bank-fuse"]
    assert duty.prospective.number == pytest.approx(7000, rel=1e-4)  # 35 A × 200 Ah
    doubtful = edited(bank_fuse("voltage: 125 V, interrupt: 10 kA"), plan=plan)
    assert not found(doubtful, LOW)
    assert asked(doubtful, LOW) == ["short-circuit current"]
    certain = edited(bank_fuse("voltage: 125 V, interrupt: 2 kA"), plan=plan)
    assert [f.level for f in found(certain, LOW)] == ["error"]  # half of 7 kA is too much as well


def test_a_device_for_alternating_current_is_told_by_another_rule() -> None:
    plan = BANK.replace("interrupt: 20 kA, dc: true", "interrupt: 2 kA, dc: false")
    assert not found(plan, LOW)


@pytest.mark.parametrize("code", known())
def test_every_body_has_a_basis(code: str) -> None:
    plan = edited(("code: nec-2023", f"code: {code}"),
                  bank_fuse("voltage: 32 V, interrupt: 2 kA"), plan=BANK)  # fmt: skip
    [finding] = [f for f in found(plan, LOW) if f.subjects == ("bank-fuse",)]
    assert finding.basis


def test_where_its_place_is_not_stated_the_whole_current_counts_and_makes_a_warning() -> None:
    place = "{bank-fuse: {from_end: from, distance: 10 cm}}"
    plan = edited((place, "bank-fuse"), bank_fuse("voltage: 32 V, interrupt: 2 kA"), plan=BANK)
    [finding] = found(plan, LOW)
    assert finding.level == "warning"
    assert (
        "a short can drive 8000 A, since where it sits in its wire is not told" in finding.message
    )
    assert finding.remedy.startswith("write its distance")


LEAD_BANK = ("chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 200 Ah",
             "chemistry: agm, nominal: 12 V, capacity: 200 Ah")  # fmt: skip


@pytest.mark.parametrize(
    ("code", "chemistry", "style", "breaks", "fires"),
    [
        ("abyc-e11", "lead", "toggle-breaker", "2.5 kA", False),
        ("abyc-e11", "lead", "toggle-breaker", "2.4 kA", True),
        ("abyc-e11", "lithium", "toggle-breaker", "2.5 kA", True),
        ("nec-2023", "lead", "toggle-breaker", "2.5 kA", True),
        ("iso-13297", "lead", "toggle-breaker", "2.5 kA", True),
    ],
)
def test_a_branch_breaker_by_the_marine_table(
    code: str, chemistry: str, style: str, breaks: str, fires: bool
) -> None:
    """Behind a main fuse on lead, 2500 A will do whatever the bank drives: E-11 Table V-A."""
    changes = [LEAD_BANK] if chemistry == "lead" else []
    breaker = f"{{rating: 40 A, voltage: 65 V, style: {style}, interrupt: {breaks}, dc: true}}"
    plan = edited(
        ("code: nec-2023", f"code: {code}"),
        ("fuses:\n", f"breakers:\n  branch: {breaker}\nfuses:\n"),
        ("charge-fuse: {from_end", "branch: {from_end"),
        *changes,
        plan=BANK,
    )
    found_there = [f.level for f in found(plan, LOW) if f.subjects == ("branch",)]
    asked = "warning" if (code, chemistry) == ("abyc-e11", "lead") else "note"
    assert found_there == ([asked] if fires else [])
    bare = edited(bank_fuse("voltage: 58 V, style: stud-mounted, interrupt: 2 kA"), plan=plan)
    assert "branch" in {f.subjects[0] for f in found(bare, LOW)}  # nothing before it that can


def test_a_wire_whose_negative_leads_nowhere_hides_no_short() -> None:
    """A relay is led to the battery switch by a wire that tells no pole: its minus is dead."""
    plan = edited(
        ("switches:\n", "switches:\n  house-off: {rating: 200 A}\n  relay: {rating: 200 A}\n"),
        ("batteries:\n", "batteries:\n  start: {chemistry: agm, nominal: 12 V, capacity: 70 Ah}\n"),
        ("bank-run: {from: house, to: main-bar, cable: batt-1-0, length: 0.5 m, place: cabin,",
         "house-on: {from: house-off, to: main-bar.positive, cable: batt-1-0, length: 0.3 m}\n"
         "  house-back: {from: house.negative, to: main-bar.negative, cable: batt-1-0,"
         " length: 1 m}\n"
         "  start-run: {from: start.positive, to: relay, cable: batt-1-0, length: 0.5 m}\n"
         "  start-back: {from: start.negative, to: house.negative, cable: batt-1-0,"
         " length: 1 m}\n"
         "  link: {from: relay, to: house-off, cable: batt-1-0, length: 0.5 m}\n"
         "  bank-run: {from: house.positive, to: house-off, cable: batt-1-0, length: 0.2 m,"),
        plan=faulty(LOW),
    )  # fmt: skip
    assert "bank-fuse" in {f.subjects[0] for f in found(plan, LOW) if f.level == "error"}
