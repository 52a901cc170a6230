"""Rules on load terminals and alternators: limits, levels, numbers by hand, remedies that hold."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.finding import Finding
from wattproof.packs import RuleSet, discover
from wattproof.testing import check_examples, check_text

RULES = discover()
INVERTER = "inverter-on-load-terminals"
PORT = "load-port-over-rating"
CHARGER = "alternator-overloaded"
STRAIGHT = "alternator-straight-to-lithium"
INPUT = "vehicle-charger-input-wrong"


def sound(rule: str) -> str:
    return RULES.rules[rule].sound


def faulty(rule: str) -> str:
    return RULES.rules[rule].faulty.of(sound(rule))


def found(plan: str, rule: str) -> list[Finding]:
    return list(check_text(plan, RuleSet({rule: RULES.rules[rule]})).findings)


def levels(plan: str, rule: str) -> list[str]:
    return [f.level for f in found(plan, rule)]


@pytest.mark.parametrize("rule", [INVERTER, PORT, CHARGER, STRAIGHT])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# An inverter on load terminals.


def test_an_inverter_on_load_terminals() -> None:
    """150 W / (0.9 × 11 V) = 15.15 A."""
    [finding] = found(faulty(INVERTER), INVERTER)
    assert finding.level == "error"
    assert finding.message == (
        "`mains` draws 15.15 A from the load terminals of `tracker`, rated 15 A, and no inverter "
        "belongs there"
    )
    assert finding.subjects == ("mains", "tracker")
    assert finding.margin == pytest.approx(1 - 150 / 9.9 / 15)
    assert "to the battery or its busbar" in finding.remedy
    assert not found(sound(INVERTER), INVERTER)


def test_it_does_not_belong_there_within_the_rating_or_without_one() -> None:
    for edit in (("load_current: 15 A", "load_current: 40 A"), ("load_current: 15 A,", "")):
        [finding] = found(edited(edit, plan=faulty(INVERTER)), INVERTER)
        assert (finding.level, finding.margin) == ("error", None)
    bare = edited((", efficiency: 90 %, low_voltage: 11 V", ""), plan=faulty(INVERTER))
    [finding] = found(bare, INVERTER)
    assert (finding.level, finding.certainty) == ("error", "assumed")  # whatever its current is


def test_it_is_not_counted_among_the_loads() -> None:
    assert not found(faulty(INVERTER), PORT)


# Loads on load terminals.


@pytest.mark.parametrize(("rating", "expected"), [("10 A", []), ("9.9 A", ["error"])])
def test_loads_against_the_terminals(rating: str, expected: list[str]) -> None:
    plan = edited(("load_current: 15 A", f"load_current: {rating}"), plan=sound(PORT))
    assert levels(plan, PORT) == expected


def test_loads_numbers_and_both_remedies_hold() -> None:
    [finding] = found(faulty(PORT), PORT)
    assert finding.message == (
        "the loads on `tracker` draw 10 A together (`lights` 3 A, `pump` 7 A), and its load "
        "terminals are rated 8 A"
    )
    assert finding.margin == pytest.approx(-0.25)
    assert "wire `pump` to the battery" in finding.remedy
    assert "at least 10 A" in finding.remedy
    moved = edited(("pump-run: {from: tracker.load", "pump-run: {from: house"), plan=faulty(PORT))
    assert not found(moved, PORT)


def test_without_a_rating_nothing_is_said() -> None:
    assert not found(edited(("load_current: 15 A,", "boost: false,"), plan=sound(PORT)), PORT)


@pytest.mark.parametrize(("rating", "expected"), [("8 A", ["warning"]), ("7 A", ["error"])])
def test_power_at_low_voltage_is_assumed(rating: str, expected: list[str]) -> None:
    """3 A + 70 W / 10.5 V = 9.67 A; 0.74 of that, 7.15 A, is the least it could be."""
    plan = edited(
        ("pump: {current: 7 A", "pump: {power: 70 W"),
        ("load_current: 15 A", f"load_current: {rating}"),
        plan=sound(PORT),
    )
    assert levels(plan, PORT) == expected


# Vehicle chargers on an alternator.

ALTERNATOR = "max_output_current: 110 A"


@pytest.mark.parametrize(
    ("rating", "expected"),
    [
        ("79.7 A", []),  # 39.82 A are 49.96 %
        ("79.6 A", ["warning"]),
        ("40 A", ["warning"]),  # almost all of it, and the efficiency is assumed
        ("38 A", ["error"]),  # over 80 % even where nothing is lost
    ],
)
def test_input_against_the_alternator(rating: str, expected: list[str]) -> None:
    """30 A × 14.6 V, the most of the house battery, / (0.88 × 12.5 V) = 39.82 A."""
    plan = edited((ALTERNATOR, f"max_output_current: {rating}"), plan=sound(CHARGER))
    assert levels(plan, CHARGER) == expected


def test_alternator_numbers_and_a_setting_that_holds() -> None:
    [finding] = found(faulty(CHARGER), CHARGER)
    assert finding.message == (
        "`twin` 39.82 A from `alternator`, rated 70 A: 56.88 % of it, and 50 % is the most for long"
    )
    assert finding.margin == pytest.approx(1 - (30 * 14.6 / 11 / 70) / 0.5)
    assert "`limited_to: 26 A` in `twin`" in finding.remedy
    assert "at least 80 A" in finding.remedy
    limited = edited(("boost: true", "boost: true, limited_to: 26 A"), plan=faulty(CHARGER))
    assert not found(limited, CHARGER)
    over = edited(("boost: true", "boost: true, limited_to: 27 A"), plan=faulty(CHARGER))
    assert found(over, CHARGER)
    assert not found(edited(("current: 70 A", "current: 80 A"), plan=faulty(CHARGER)), CHARGER)


def test_alternators_and_chargers_add_up() -> None:
    second = (
        ("chargers:\n", "chargers:\n  other: {kind: alternator, max_output_current: 70 A}\n"),
        ("wires:\n", "wires:\n  other-run: {from: other, to: start, cable: starter-50, "
         "length: 1 m}\n"),
    )  # fmt: skip
    assert not found(edited(*second, plan=faulty(CHARGER)), CHARGER)
    twin = (
        ("controllers:\n", "controllers:\n  more: {kind: vehicle-charger, boost: true, "
         "max_input_voltage: 25 V,\n         max_output_current: 20 A, charge_voltage: 14.2 V}\n"),
        ("wires:\n", "wires:\n  more-in: {from: start, to: more.alternator, cable: flex-16, "
         "length: 5 m}\n  more-out: {from: more.battery, to: house, cable: flex-16, "
         "length: 1 m}\n"),
    )  # fmt: skip
    [finding] = found(edited(*twin, plan=sound(CHARGER)), CHARGER)
    assert finding.level == "warning"  # 66.36 A of 110 A
    assert "60.33 %" in finding.message
    assert "`more` 26.55 A, `twin` 39.82 A from `alternator`" in finding.message


def test_without_an_alternator_nothing_is_said() -> None:
    plan = sound(CHARGER)
    line = next(text for text in plan.splitlines() if "  alternator: {" in text)
    start = plan.index("  alternator-run:")
    plan = plan[:start] + plan[plan.index("  input-run:") :]
    plan = plan.replace("chargers:\n" + line + "\n", "")
    fuse = next(text for text in plan.splitlines() if "alternator-fuse:" in text)
    assert not found(plan.replace(fuse + "\n", ""), CHARGER)


# Lithium straight on an alternator.


@pytest.mark.parametrize(("rating", "expected"), [("70 A", []), ("69 A", ["warning"])])
def test_thick_cables_let_in_what_lithium_takes(rating: str, expected: list[str]) -> None:
    """Through 4 mΩ 1 V drives far more than 0.35 × 100 Ah = 35 A."""
    plan = edited(("max_output_current: 100 A", f"max_output_current: {rating}"),
                  plan=sound(STRAIGHT))  # fmt: skip
    assert levels(plan, STRAIGHT) == expected


def test_straight_numbers_and_remedy() -> None:
    [finding] = found(faulty(STRAIGHT), STRAIGHT)
    assert finding.message == (
        "`house` takes about 35 A straight from `alternator`, 58.33 % of its 60 A, and 50 % is the "
        "most for long"
    )
    assert finding.margin == pytest.approx(1 - 35 / 60 / 0.5)
    assert "draws at most 30 A" in finding.remedy


def test_long_thin_cables_let_in_little() -> None:
    """20 m of 2.5 mm² at 7.98 Ω/km are 0.16 Ω: 1 V drives 6.2 A."""
    thin = edited(("size: 50 mm²", "size: 2.5 mm²"), ("length: 2 m", "length: 10 m"),
                  plan=faulty(STRAIGHT))  # fmt: skip
    assert not found(thin, STRAIGHT)
    [finding] = found(edited(("current: 60 A", "current: 12 A"), plan=thin), STRAIGHT)
    amps = next(v.number for v in finding.values if v.unit == "A")
    assert amps == pytest.approx(1 / (20 * 0.00798 + 12.8 / 6000), rel=1e-3)


def test_lead_and_a_vehicle_charger_are_silent() -> None:
    lead = faulty(STRAIGHT).replace("lithium-iron-phosphate, nominal: 12.8", "agm, nominal: 12")
    assert not found(lead, STRAIGHT)
    assert not found(faulty(CHARGER), STRAIGHT)


# The side of its input.


def test_a_charger_that_feeds_itself() -> None:
    check_examples(RULES.rules[INPUT], RULES)
    plan = RULES.rules[INPUT].faulty.of(RULES.rules[INPUT].sound)
    [finding] = [f for f in check_text(plan).findings if f.rule == INPUT]
    assert finding.message == (
        "`twin` takes its input from what it charges, `house`: it pumps in a circle"
    )


def test_a_charger_with_its_sides_exchanged() -> None:
    plan = edited(
        (
            "input-run: {from: start, to: twin.alternator",
            "input-run: {from: start, to: twin.battery",
        ),
        ("output-run: {from: twin.battery", "output-run: {from: twin.alternator"),
        plan=RULES.rules[INPUT].sound,
    )
    [finding] = [f for f in check_text(plan).findings if f.rule == INPUT]
    assert "`twin` charges the side that `alternator` charges" in finding.message


def test_a_switch_for_emergencies_is_no_circle() -> None:
    plan = edited(
        ("fuses:\n", "switches:\n  both: {rating: 200 A, voltage: 48 V, dc: true}\nfuses:\n"),
        ("wires:\n", "wires:\n  link: {from: start, to: house, cable: starter-50, length: 3 m, "
         "inline: [both]}\n"),
        plan=RULES.rules[INPUT].sound,
    )  # fmt: skip
    assert not [f for f in check_text(plan).findings if f.rule == INPUT]
