"""What a label says against itself, worked out with half of the last digit either way."""

from __future__ import annotations

import pytest

from study.test_limits_of_labels import module
from wattproof.quantities import read_quantity
from wattproof.source import Place, Text
from wattproof.study.array import label_coefficients
from wattproof.study.array.label_coefficients import odd_coefficients
from wattproof.study.array.labels import (
    Band,
    _corrected,
    _oddity,
    contradictions,
    is_nominal,
    power_gap,
    slips,
    usual_vmp,
)
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


BAND = Band((0.8, 0.9, 0.99), (0.7, 0.85, 0.88))
ALL = {"Voc": 24.0, "Isc": 5.0, "Vmp": 20.0, "Imp": 4.0, "Pmax": 100.0}


@pytest.mark.parametrize(
    ("missing", "made"),
    [
        ("", {"Voc": 20 / 0.85, "Isc": 4 / 0.9, "Vmp": 25.0, "Imp": 5.0, "Pmax": 80.0}),
        ("Imp", {"Voc": 20 / 0.85, "Isc": 5 / 0.9, "Vmp": 20.4, "Pmax": 90.0}),
        ("Pmax", {"Voc": 20 / 0.85, "Isc": 4 / 0.9, "Vmp": 20.4, "Imp": 4.5}),
    ],
)
def test_a_value_as_the_others_make_it(missing: str, made: dict[str, float]) -> None:
    """24 V and 5 A, 20 V and 4 A, 100 W; typical are 0.85 of the voltage and 0.9 of the current."""
    label = {symbol: value for symbol, value in ALL.items() if symbol != missing}
    for symbol, value in made.items():
        assert _corrected(label, symbol, BAND) == pytest.approx({**label, symbol: value})


@pytest.mark.parametrize(
    ("changed", "oddity"),
    [
        ({"Pmax": 80.0}, 0.1 + 0.85 - 20 / 24),
        ({"Pmax": 82.0}, 0.1 + 0.85 - 20 / 24),
        ({"Pmax": 78.0}, 0.1 + 0.85 - 20 / 24),
        ({"Pmax": 83.0}, None),
        ({"Pmax": 77.0}, None),
        ({"Pmax": 80.0, "Isc": 4.1}, 4 / 4.1 - 0.9 + 0.85 - 20 / 24),
        ({"Pmax": 80.0, "Isc": 4.03}, None),
        ({"Pmax": 80.0, "Isc": 5.1}, None),
        ({"Pmax": 80.0, "Voc": 23.0}, 0.1 + 20 / 23 - 0.85),
        ({"Pmax": 80.0, "Voc": 22.0}, None),
        ({"Pmax": 80.0, "Voc": 29.0}, None),
    ],
)
def test_how_odd_a_label_is(changed: dict[str, float], oddity: float | None) -> None:
    """How far both shares lie from typical; a power more than 3 % off is no slip of one value."""
    found = _oddity({**ALL, **changed}, BAND)
    assert found == (None if oddity is None else pytest.approx(oddity))
    alone = {k: v for k, v in {**ALL, **changed}.items() if k != "Pmax"}
    if changed.keys() == {"Pmax"}:
        assert _oddity(alone, BAND) == pytest.approx(0.1 + 0.85 - 20 / 24)


@pytest.mark.parametrize(
    ("printed", "first", "count"),
    [
        # Swapped currents, swapped voltages; the power printed fits no single other value.
        ("voc: 24.3 V, vmp: 20.4 V, isc: 4.9 A, imp: 5.2 A, pmax: 100 W",
         {"Isc": 5.2, "Imp": 4.9}, 1),
        ("voc: 20.4 V, vmp: 24.3 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W",
         {"Voc": 24.3, "Vmp": 20.4}, 1),
        # 42 V at maximum power of 24.3 V open: 100 W by 4.9 A are 20.4 V.
        ("voc: 24.3 V, vmp: 42 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W", {"Vmp": 100 / 4.9}, 1),
        # 9.4 A of 5.2 A short-circuited: 100 W by 20.4 V are 4.9 A.
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 9.4 A, pmax: 100 W", {"Imp": 100 / 20.4}, 1),
        # Without power: 30 V of 16 V open may be a slip in either, 30 / 0.82 or 16 × 0.82.
        ("voc: 16 V, vmp: 30 V, isc: 5.2 A, imp: 4.9 A", {"Voc": 30 / 0.82}, 2),
    ],
)  # fmt: skip
def test_the_slips_that_explain_a_label(printed: str, first: dict[str, float], count: int) -> None:
    was = "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"
    found = slips(module((was, printed)))
    likeliest = {value.symbol: value.number for value in found[0].likely}
    if count == 1:
        assert likeliest == pytest.approx(first)
        assert {value.symbol for value in found[0].printed} == first.keys()
    else:
        each = [{v.symbol: v.number for v in slip.likely} for slip in found]
        assert pytest.approx(first) in each


def test_a_voltage_that_a_battery_has_and_what_is_usual() -> None:
    """20.4 of 24.3 V is a module's own; 12 V is the class of a battery, 13 V of none."""
    assert usual_vmp(module()) == pytest.approx(0.82 * 24.3)
    for volts, nominal in (("12 V", True), ("13 V", False), ("20.4 V", False)):
        assert is_nominal(module(("vmp: 20.4 V", f"vmp: {volts}"))) is nominal
