"""Rules on bonds: how many, how thick, and what a common positive forbids."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.testing import check_examples, check_text

RULES = discover()
TWICE = "negative-bonded-twice"
SMALL = "bond-too-small"
COMMON = "common-positive-controller-grounded"
POSITIVE = "positive-bonded"


def sound(rule: str) -> str:
    return RULES.rules[rule].sound


def faulty(rule: str) -> str:
    return RULES.rules[rule].faulty.of(sound(rule))


def found(plan: str, rule: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


@pytest.mark.parametrize("rule", [TWICE, SMALL, COMMON, POSITIVE])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# One tie.


def bonded(*bonds: str, wires: str = "", setting: str = "vehicle") -> str:
    """The sound plan with further bonds and wires."""
    return edited(
        ("bonds:\n", "bonds:\n" + "".join(f"  b{n}: {{{b}}}\n" for n, b in enumerate(bonds))),
        ("wires:\n", f"wires:\n{wires}"),
        ("setting: vehicle", f"setting: {setting}"),
        plan=sound(TWICE),
    )


def test_two_ties_are_a_warning_and_on_a_boat_an_error() -> None:
    [finding] = found(faulty(TWICE), TWICE)
    assert finding.level == "warning"
    assert finding.message == (
        "the negative of `house` is tied to ground 2 times, by `rear-bond` and `chassis-bond`"
    )
    assert finding.remedy == "keep one tie, for example `rear-bond`, and take away `chassis-bond`"
    [at_sea] = found(
        bonded("from: house.negative, to: water, cable: bond-8", setting="boat"), TWICE
    )
    assert at_sea.level == "error"


def test_one_tie_or_none_and_a_tie_to_earth_are_silent() -> None:
    assert not found(bonded(), TWICE)
    assert not found(sound("charge-voltage-wrong"), TWICE)
    assert not found(bonded("from: house.negative, to: earth, cable: bond-8"), TWICE)


def test_from_another_point_of_the_same_negative() -> None:
    plan = bonded("from: tracker.battery.negative, to: chassis, cable: bond-8")
    assert len(found(plan, TWICE)) == 1


def test_a_negative_of_its_own_has_a_tie_of_its_own() -> None:
    """The array's negative is not the bank's, as far as the plan says."""
    assert not found(bonded("from: tracker.pv.negative, to: chassis, cable: bond-8"), TWICE)


def test_a_wire_from_the_bank_to_the_chassis_is_a_tie() -> None:
    strap = "  strap: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}\n"
    [finding] = found(bonded(wires=strap), TWICE)
    assert finding.subjects == ("chassis-bond", "strap")


START = """\
batteries:
  start: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}
"""


def test_banks_that_meet_only_in_the_chassis_have_one_tie_each() -> None:
    plan = bonded(
        wires="  start-return: {from: start.negative, to: chassis, cable: batt-8, length: 1 m}\n"
        "  lamp-run: {from: start.positive, to: lamp.positive, cable: batt-8, length: 1 m}\n"
        "  lamp-return: {from: lamp.negative, to: start.negative, cable: batt-8, length: 1 m}\n"
    )
    plan = edited(
        ("batteries:\n", START),
        ("bonds:\n", "loads: {lamp: {current: 1 A}}\nbonds:\n"),
        plan=plan,
    )
    assert not found(plan, TWICE)
    tied = edited(
        ("wires:\n", "wires:\n  tie: {from: start.negative, to: house.negative, cable: batt-8, "
         "length: 1 m}\n"),
        plan=plan,
    )  # fmt: skip
    [finding] = found(tied, TWICE)
    assert "the negative of `start` and `house`" in finding.message


def test_through_a_controller_that_says_its_negative_is_common() -> None:
    """The array's negative is the bank's then."""
    plan = bonded("from: tracker.pv.negative, to: chassis, cable: bond-8")
    joined = edited(("blocks_reverse: true", "blocks_reverse: true, common: negative"), plan=plan)
    [finding] = found(joined, TWICE)
    assert finding.subjects == ("b0", "chassis-bond")
    apart = edited(("common: negative", "common: negative, isolated: true"), plan=joined)
    assert not found(apart, TWICE)


# The other pole.


def test_a_positive_at_the_chassis() -> None:
    [finding] = found(faulty(POSITIVE), POSITIVE)
    assert finding.level == "error"
    assert finding.message == "`chassis-bond` ties the positive of `house` to the chassis"
    assert finding.remedy == "tie the negative to the chassis instead of the positive"


@pytest.mark.parametrize(("ground", "level"), [("water", "error"), ("earth", "warning")])
def test_a_positive_at_another_ground(ground: str, level: str) -> None:
    plan = edited(("to: chassis, cable: bond-8", f"to: {ground}, cable: bond-8"),
                  plan=faulty(POSITIVE))  # fmt: skip
    [finding] = found(plan, POSITIVE)
    assert finding.level == level


def test_a_wire_from_the_positive_to_the_chassis() -> None:
    strap = "  strap: {from: tracker.battery.positive, to: chassis, cable: batt-8, length: 1 m}\n"
    start, end = sound(POSITIVE).index("bonds:"), sound(POSITIVE).index("wires:")
    plan = sound(POSITIVE)[:start] + sound(POSITIVE)[end:]
    [finding] = found(edited(("wires:\n", f"wires:\n{strap}"), plan=plan), POSITIVE)
    assert finding.subjects == ("strap", "house")


def test_the_positive_of_an_array_whose_negative_is_the_bonded_one() -> None:
    plan = bonded("from: tracker.pv.positive, to: chassis, cable: bond-8")
    [finding] = found(plan, POSITIVE)
    assert finding.level == "warning"
    assert "that shorts the array" in finding.message
    said = edited(("blocks_reverse: true", "blocks_reverse: true, common: negative"), plan=plan)
    assert [f.level for f in found(said, POSITIVE)] == ["error"]
    apart = edited(("common: negative", "common: negative, isolated: true"), plan=said)
    assert not found(apart, POSITIVE)
    elsewhere = edited(("pv.positive, to: chassis", "pv.positive, to: earth"), plan=plan)
    assert not found(elsewhere, POSITIVE)


# Its size.


@pytest.mark.parametrize(
    ("size", "n"), [("8 AWG", 0), ("9 AWG", 1), ("10 mm²", 0), ("8.37 mm²", 0), ("6 mm²", 1)]
)
def test_at_least_8_awg_in_trailers(size: str, n: int) -> None:
    plan = edited(("bond-8: {size: 8 AWG", f"bond-8: {{size: {size}"), plan=sound(SMALL))
    assert len(found(plan, SMALL)) == n


def test_size_numbers_and_remedy() -> None:
    [finding] = found(faulty(SMALL), SMALL)
    assert finding.level == "warning"
    assert finding.message == (
        "`chassis-bond` is 10 AWG, and at least 8 AWG is asked for to the chassis"
    )
    assert finding.margin == pytest.approx(5.26 / 8.37 - 1, abs=0.01)
    assert finding.remedy == "use 8 AWG or larger for `chassis-bond`"


@pytest.mark.parametrize(
    ("negative", "bond", "n"),
    [
        ("2 AWG", "4 AWG", 0),  # one size below; 3 AWG is not sold
        ("2 AWG", "6 AWG", 1),
        ("8 AWG", "10 AWG", 0),
        ("8 AWG", "12 AWG", 1),
    ],
)
def test_on_boats_one_size_below_the_largest_negative(negative: str, bond: str, n: int) -> None:
    plan = edited(
        ("code: nec-2023", "code: abyc-e11"),
        ("setting: vehicle", "setting: boat"),
        ("batt-8: {size: 8 AWG", f"batt-8: {{size: {negative}"),
        ("bond-8: {size: 8 AWG", f"bond-8: {{size: {bond}"),
        plan=sound(SMALL),
    )
    assert len(found(plan, SMALL)) == n


@pytest.mark.parametrize("code", ["iec", "iso-13297"])
def test_other_bodies_state_no_size(code: str) -> None:
    plan = edited(("code: nec-2023", f"code: {code}"), plan=faulty(SMALL))
    assert not found(plan, SMALL)


# A common positive.


def test_load_negative_on_the_batterys() -> None:
    [finding] = found(faulty(COMMON), COMMON)
    assert finding.level == "error"
    assert finding.message == (
        "`regulator` has its positive in common, and its load negative is tied to the battery's "
        "negative"
    )
    assert "leave `regulator.load.negative` joined to nothing but the load" in finding.remedy


def test_a_negative_or_an_unstated_common_pole_is_silent() -> None:
    assert not found(sound(COMMON), COMMON)
    assert not found(edited((", common: negative", ""), plan=sound(COMMON)), COMMON)


def floating(bonds: str) -> str:
    """The load returns to the controller alone; array and battery tied by bonds."""
    plan = faulty(COMMON)
    start, end = plan.index("  lights-return:"), plan.index("  load-return:")
    plan = plan[:start] + plan[end:]
    return edited(("wires:\n", f"bonds:\n{bonds}wires:\n"), plan=plan) if bonds else plan


PV = "  pv-bond: {from: regulator.pv.negative, to: chassis, cable: batt-8}\n"
BANK = "  bank-bond: {from: house.negative, to: chassis, cable: batt-8}\n"


def test_over_the_chassis() -> None:
    assert not found(floating(""), COMMON)
    assert not found(floating(BANK), COMMON)
    [both] = found(floating(PV + BANK), COMMON)
    assert both.level == "error"
    assert "array negative is tied to the chassis, as the battery's is" in both.message
    [alone] = found(floating(PV), COMMON)
    assert alone.level == "warning"
    assert "which other negatives may share" in alone.message
