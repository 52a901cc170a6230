"""Rules on how lead banks are charged and drawn from: limits, numbers by hand, what is exempt."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, faulty, found, levels, sound
from wattproof.testing import check_examples

SMALL = "charge-current-too-small"
HARD = "lead-drawn-too-hard"
COMPENSATION = "temperature-compensation-wrong"


@pytest.mark.parametrize("rule", [SMALL, HARD, COMPENSATION])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# Too little charge.


@pytest.mark.parametrize(("capacity", "expected"), [("833 Ah", []), ("834 Ah", ["note"])])
def test_three_amperes_for_each_hundred_ampere_hours(capacity: str, expected: list[str]) -> None:
    """3 × 20.4 V × 4.9 A / 12 V = 24.99 A, which is 3 % of 833 Ah."""
    plan = edited(("capacity: 200 Ah", f"capacity: {capacity}"), plan=sound(SMALL))
    assert levels(plan, SMALL) == expected


def test_the_least_charge_is_told() -> None:
    [finding] = found(faulty(SMALL), SMALL)
    assert finding.message == (
        "all that charges `house` gives it 24.99 A; with 1000 Ah it needs at least 30 A"
    )
    assert "at least 30 A" in finding.remedy
    assert finding.margin == pytest.approx(24.99 / 30 - 1)


def test_lithium_and_banks_that_an_engine_charges_are_exempt() -> None:
    lithium = edited(
        ("chemistry: agm, nominal: 12 V", "chemistry: lithium-iron-phosphate, nominal: 12.8 V"),
        plan=faulty(SMALL),
    )
    assert not found(lithium, SMALL)
    engine = edited(
        ("wires:\n", "chargers:\n  alternator: {kind: alternator, max_output_current: 90 A}\n"
         "wires:\n  alternator-run: {from: alternator, to: house, cable: batt-8, length: 1 m}\n"),
        plan=faulty(SMALL),
    )  # fmt: skip
    assert not found(engine, SMALL)


# Drawn too hard.


@pytest.mark.parametrize(("capacity", "expected"), [("324 Ah", []), ("323 Ah", ["note"])])
def test_a_quarter_of_the_capacity(capacity: str, expected: list[str]) -> None:
    """800 W / (0.9 × 11 V) = 80.81 A, four times of which is 323.2 Ah."""
    plan = edited(("capacity: 400 Ah", f"capacity: {capacity}"), plan=sound(HARD))
    assert levels(plan, HARD) == expected


def test_the_bank_that_would_do_is_told_and_does() -> None:
    [finding] = found(faulty(HARD), HARD)
    assert "80.81 A is drawn from `house`" in finding.message
    assert "at least 330 Ah" in finding.remedy
    assert not found(edited(("capacity: 200 Ah", "capacity: 330 Ah"), plan=faulty(HARD)), HARD)


def test_lithium_is_not_drawn_too_hard() -> None:
    plan = edited(
        ("chemistry: agm, nominal: 12 V", "chemistry: lithium-iron-phosphate, nominal: 12.8 V"),
        plan=faulty(HARD),
    )
    assert not found(plan, HARD)


# Temperature compensation.

UNSAID = (", compensates_temperature: false", "")


def test_what_a_fixed_voltage_misses() -> None:
    """24 mV/K: 43 K below 25 °C is 1.032 V too little, 14 K above it 0.336 V too much."""
    [finding] = found(faulty(COMPENSATION), COMPENSATION)
    assert finding.level == "warning"
    assert "1.032 V too little at -18 °C" in finding.message
    assert "a place of 13 °C to 37 °C" in finding.remedy
    assert {str(v) for v in finding.values} == {"1.032 V", "0.336 V"}


@pytest.mark.parametrize(("ambient", "expected"), [("37 °C", []), ("38 °C", ["warning"])])
def test_a_place_that_stays_mild_needs_none(ambient: str, expected: list[str]) -> None:
    """12 K × 24 mV/K is 0.288 V, 13 K is 0.312 V; 0.3 V may be missed."""
    plan = edited(
        ("cabin: {ambient: 39 °C}", f"cabin: {{ambient: {ambient}, coldest: 15 °C}}"),
        plan=faulty(COMPENSATION),
    )
    assert levels(plan, COMPENSATION) == expected


def test_where_nothing_is_said_it_is_silent() -> None:
    assert not found(edited(UNSAID, plan=faulty(COMPENSATION)), COMPENSATION)


def test_lithium_wants_none() -> None:
    lithium = edited(
        ("chemistry: agm, nominal: 12 V", "chemistry: lithium-iron-phosphate, nominal: 12.8 V"),
        plan=sound(COMPENSATION),
    )
    [finding] = found(lithium, COMPENSATION)
    assert "raises its voltage by 1.032 V at -18 °C" in finding.message
    off = edited(("compensates_temperature: true", "compensates_temperature: false"), plan=lithium)
    assert not found(off, COMPENSATION)
