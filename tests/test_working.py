"""Traced numbers: arithmetic, formulas, substitutions, steps, assumptions."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.quantities import read_quantity
from wattproof.source import Place, Text
from wattproof.working import (
    Assumption,
    Value,
    assumed,
    declared,
    digits,
    largest,
    noting_assumptions,
    shown,
    smallest,
    steps,
    tabled,
    told_apart,
    total,
)

HERE = Place("plan.yaml", 3, 7, 3, 12)
GUESS = Assumption("coldest temperature", "site", "It is cold.", "site: coldest", HERE)


def volts(text: str, symbol: str) -> Value:
    return declared(read_quantity(Text.at(text, HERE), "voltage"), symbol, f"voltage {symbol}")


def test_the_arithmetic_is_the_working() -> None:
    voc = volts("24.6 V", "Voc")
    rise = tabled(0.1, "", "k", "factor", "a table")
    cold = (3 * voc * (1 + rise)).named("Vcold", "cold voltage", "V")
    [step] = steps(cold)
    assert step.formula == "3 × Voc × (1 + k)"
    assert step.substituted == "3 × 24.6 V × (1 + 0.1)"
    assert step.number == pytest.approx(81.18)
    assert [(i.symbol, i.text) for i in step.inputs] == [("Voc", "24.6 V"), ("k", "0.1")]


def test_steps_come_before_what_reads_them_and_once() -> None:
    a = (volts("2 V", "A") * 2.0).named("B", "double", "V")
    b = (a + a * 3.0).named("C", "more", "V")
    assert [s.symbol for s in steps(b)] == ["B", "C"]


@pytest.mark.parametrize(
    ("value", "formula"),
    [
        (lambda a, b: a - (b - a), "A − (B − A)"),
        (lambda a, b: a - b - a, "A − B − A"),
        (lambda a, b: a / (b * a), "A / (B × A)"),
        (lambda a, b: (a + b) * a, "(A + B) × A"),
        (lambda a, b: a * b + a, "A × B + A"),
        (lambda a, b: 1.0 / a, "1 / A"),
        (lambda a, b: largest([a, b]), "largest of (A; B)"),
        (lambda a, b: total([a, a, a]), "3 × A"),
    ],
)
def test_brackets(value, formula: str) -> None:  # type: ignore[no-untyped-def]
    made = value(volts("2 V", "A"), volts("3 V", "B")).named("X", "x", "V")
    assert steps(made)[-1].formula == formula


def test_negative_numbers_stand_in_brackets() -> None:
    t = tabled(-18.0, "°C", "T", "temperature", "x")
    made = (1.0 - t).named("X", "x", "")
    assert steps(made)[0].substituted == "1 − (−18 °C)"


def test_a_choice_of_one_stays_itself() -> None:
    a = volts("2 V", "A")
    assert largest([a]) is a
    assert smallest([a, a]) is a
    assert total([a]) is a


def test_division_by_zero_has_no_traceback() -> None:
    assert math.isinf((volts("2 V", "A") / Value(0.0)).number)


def test_assumptions_follow_the_numbers() -> None:
    guess = assumed(-20.0, "°C", "T", "coldest", GUESS)
    made = (volts("2 V", "A") * (1.0 - guess)).named("X", "x", "V")
    assert made.assumptions == {GUESS}
    assert not volts("2 V", "A").assumptions


def test_comparisons_note_what_they_rest_on() -> None:
    guess = assumed(-20.0, "°C", "T", "coldest", GUESS)
    with noting_assumptions() as noted:
        assert guess < 0.0
        assert volts("2 V", "A") > 1.0
    assert noted == {GUESS}
    assert guess < 1.0  # outside nothing is noted


@pytest.mark.parametrize(
    ("number", "unit", "text"),
    [
        (83.00286, "V", "83 V"),
        (0.0198, "Ω", "19.8 mΩ"),
        (1.2345, "Ω", "1.23 Ω"),
        (12_345.0, "A", "12.3 kA"),
        (30.0, "A", "30 A"),
        (400 * 3600.0, "C", "400 Ah"),
        (0.01647, "%", "1.65 %"),
        (-0.0029, "1/K", "−0.29 %/K"),
        (5.26e-6, "m²", "5.26 mm²"),
        (0.0, "A", "0 A"),
        (math.inf, "A", "no limit"),
        (-18.0, "°C", "−18 °C"),
        (1.5625, "", "1.56"),
    ],
)
def test_numbers_for_a_reader(number: float, unit: str, text: str) -> None:
    assert shown(number, unit) == text


@given(st.floats(-1e6, 1e6).filter(lambda x: abs(x) > 1e-3))
def test_shown_digits_are_near_the_number(number: float) -> None:
    assert float(digits(number).replace("−", "-")) == pytest.approx(number, rel=6e-3)


@given(st.floats(0.1, 1e3), st.floats(0.1, 1e3), st.floats(0.1, 1e3))
def test_traced_arithmetic_is_plain_arithmetic(a: float, b: float, c: float) -> None:
    x, y, z = (tabled(n, "", s, s, "x") for n, s in ((a, "x"), (b, "y"), (c, "z")))
    assert ((x + y) * z / (x + 1.0) - 2.0 * y).number == (a + b) * c / (a + 1.0) - 2.0 * b


def test_two_numbers_that_read_alike_are_told_apart() -> None:
    carried, may = (tabled(n, "A", s, "x", "y") for n, s in ((30.04, "I"), (30.0, "Imax")))
    message = f"`run` has to carry {carried}; {may} is the most that it may"
    assert message.count("30 A") == 2
    said = told_apart(message, (carried, may))
    assert said == "`run` has to carry 30.04 A; 30 A is the most that it may"
    assert told_apart("30 A once", (carried, may)) == "30 A once"
    far = tabled(31.0, "A", "I", "x", "y")
    assert told_apart(f"{far} over {may}", (far, may)) == "31 A over 30 A"
