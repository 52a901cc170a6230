"""What vehicle chargers draw from an alternator against its rating."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

CHARGER = "alternator-overloaded"
ALTERNATOR = "max_output_current: 110 A"


@pytest.mark.parametrize(
    ("rating", "expected"),
    [
        ("79.7 A", []),  # 39.82 A are 49.96 %
        ("79.6 A", ["warning"]),
        ("48 A", ["warning"]),  # 83 % of it, and the efficiency is assumed
        ("40 A", ["error"]),  # over 80 % even where little is lost
    ],
)
def test_input_against_the_alternator(rating: str, expected: list[str]) -> None:
    """30 A × 14.6 V, the most of the house battery, / (0.88 × 12.5 V) = 39.82 A."""
    plan = edited((ALTERNATOR, f"max_output_current: {rating}"), plan=sound(CHARGER))
    assert levels(plan, CHARGER) == expected


def test_alternator_numbers_and_a_setting_that_holds() -> None:
    [finding] = found(faulty(CHARGER), CHARGER)
    assert finding.message == (
        "`alternator` gives 39.8 A to `twin`: 56.9 % of its 70 A, and 50 % is the most for long"
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
    assert "60.3 %" in finding.message
    assert "`alternator` gives 26.5 A to `more` and 39.8 A to `twin`" in finding.message


def test_without_an_alternator_nothing_is_said() -> None:
    plan = sound(CHARGER)
    line = next(text for text in plan.splitlines() if "  alternator: {" in text)
    start = plan.index("  alternator-run:")
    plan = plan[:start] + plan[plan.index("  input-run:") :]
    plan = plan.replace("chargers:\n" + line + "\n", "")
    fuse = next(text for text in plan.splitlines() if "alternator-fuse:" in text)
    assert not found(plan.replace(fuse + "\n", ""), CHARGER)


CONVERTER = (
    (
        "controllers:\n  twin: {kind: vehicle-charger, max_input_voltage: 25 V, "
        "max_output_current: 30 A, boost: true,\n         charge_voltage: 14.2 V, "
        "blocks_reverse: true}\n",
        "converters:\n  twin: {input_nominal: 12 V, output_nominal: 12 V, "
        "max_output_current: 30 A, max_input_current: 40 A}\n",
    ),
    ("to: twin.alternator,", "to: twin.input,"),
    ("from: twin.battery,", "from: twin.output,"),
)


@pytest.mark.parametrize(
    ("rating", "limited", "fires"),
    [("80 A", "", False), ("79 A", "", True), ("79 A", ", limited_to: 20 A", False)],
)
def test_a_converter_that_charges_counts(rating: str, limited: str, fires: bool) -> None:
    plan = edited(
        *CONVERTER,
        ("max_input_current: 40 A", f"max_input_current: 40 A{limited}"),
        ("max_output_current: 110 A", f"max_output_current: {rating}"),
        plan=sound(CHARGER),
    )
    assert bool(found(plan, CHARGER)) == fires


def test_a_converter_that_feeds_loads_alone_does_not() -> None:
    """What it draws is what hangs on it, and is drawn from the bank."""
    plan = edited(
        *CONVERTER,
        ("max_output_current: 110 A", "max_output_current: 40 A"),
        ("output-run: {from: twin.output, to: house,", "output-run: {from: twin.output, to: lamp,"),
        ("fuses:\n", "loads:\n  lamp: {current: 2 A}\nfuses:\n"),
        plan=sound(CHARGER),
    )
    assert not found(plan, CHARGER)
