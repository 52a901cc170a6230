"""What a label says against itself, worked out with half of the last digit either way."""

from __future__ import annotations

import pytest

from study.test_limits_of_labels import module
from wattproof.quantities import read_quantity
from wattproof.source import Place, Text
from wattproof.study.array import label_coefficients
from wattproof.study.array.label_coefficients import odd_coefficients
from wattproof.study.array.labels import contradictions, power_gap
from wattproof.working import steps

LABEL = "pmax: 100 W"
"""Of the base plan: 20.4 V and 4.9 A make 99.96 W."""


@pytest.mark.parametrize(
    ("pmax", "gap"),
    [
        ("100 W", 0.0),
        ("110 W", 1.0 - 20.45 * 4.95 / 109.5),
        ("90 W", 20.35 * 4.85 / 90.5 - 1.0),
    ],
)
def test_the_gap_of_a_power_that_no_rounding_explains(pmax: str, gap: float) -> None:
    found = power_gap(module((LABEL, f"pmax: {pmax}")))
    assert found is not None
    assert found.share.number == pytest.approx(gap)
    product, share = steps(found.share)
    assert product.formula == "Vmp × Imp"
    assert product.number == pytest.approx(99.96)
    assert share.formula == "difference beyond rounding (Vmp×Imp; Pmax)"


@pytest.mark.parametrize(
    ("pmax", "symbols"),
    [
        ("100 W", []),
        ("106 W", []),  # 105.5 / 20.45 is 5.159 A, and 5.25 A in short circuit leave 0.983
        ("107 W", ["Pmax/Vmp"]),  # 106.5 / 20.45 is 5.208 A, 0.992 of 5.25 A
        ("119 W", ["Pmax/Vmp"]),  # 119 / 4.9 is 24.29 V, below the 24.3 V of the open circuit
        ("120 W", ["Pmax/Vmp", "Pmax/Imp"]),  # 24.49 V
    ],
)
def test_a_power_against_what_is_printed_without_load(pmax: str, symbols: list[str]) -> None:
    """Modules work at up to 0.99 of their short-circuit current, never at their open voltage."""
    found = contradictions(module((LABEL, f"pmax: {pmax}")))
    assert [each.power_point.symbol for each in found] == symbols


HERE = Place("plan.yaml", 1, 1, 1, 1)
SHARE = {
    "its sign is lost: −0.29 %/K": -0.0029,
    "its unit is %/K: 0.29 %/K": 0.0029,
    "its unit is mV/K: 0.29 mV/K is 0.00119 %/K": 0.29e-3 / 24.3,
    "its unit is V/K: 0.29 V/K is 1.19 %/K": 0.29 / 24.3,
    "its point is off by one place: 2.9 %/K": 0.029,
    "its point is off by one place: 0.029 %/K": 0.00029,
    "its point is off by two places: 29 %/K": 0.29,
    "its point is off by two places: 0.0029 %/K": 0.000029,
}
MILLIVOLTS = {
    "its sign is lost: 0.288 %/K": 0.07 / 24.3,
    "its unit is %/K: −70 %/K": -0.70,
    "its unit is mV/K: −70 mV/K is −0.288 %/K": -0.07 / 24.3,
    "its unit is V/K: −70 V/K is −288 %/K": -70.0 / 24.3,
    "its point is off by one place: −2.88 %/K": -0.7 / 24.3,
    "its point is off by one place: −0.0288 %/K": -0.007 / 24.3,
    "its point is off by two places: −28.8 %/K": -7.0 / 24.3,
    "its point is off by two places: −0.00288 %/K": -0.0007 / 24.3,
}


@pytest.mark.parametrize(
    ("text", "dimension", "told"),
    [
        ("0.29 %/K", "relative coefficient", SHARE),
        ("-70 mV/K", "voltage coefficient", MILLIVOLTS),
    ],
)
def test_what_a_coefficient_may_have_meant(
    text: str, dimension: str, told: dict[str, float]
) -> None:
    """Of a module of 24.3 V."""
    written = read_quantity(Text.at(text, HERE), dimension)
    found = label_coefficients._readings("Voc", written, 24.3)
    assert {words: value for value, words in found} == pytest.approx(told)


@pytest.mark.parametrize(
    ("text", "likely"),
    [
        ("0.29 %/°C", "its sign is lost: −0.29 %/K"),
        ("-2.9 %/°C", "its point is off by one place: −0.29 %/K"),
        ("-0.029 %/°C", "its point is off by one place: −0.29 %/K"),
        ("-0.29 V/°C", "its unit is %/K: −0.29 %/K"),
        ("-0.29 mV/°C", "its unit is %/K: −0.29 %/K"),
    ],
)
def test_the_slip_that_makes_it_a_real_coefficient(text: str, likely: str) -> None:
    label = "voc_coefficient: -0.29 %/°C"
    [odd] = odd_coefficients(module((label, f"voc_coefficient: {text}")))
    assert odd.likely == likely
