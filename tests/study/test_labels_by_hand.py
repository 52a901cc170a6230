"""What a label says against itself, worked out with half of the last digit either way."""

from __future__ import annotations

import pytest

from plans import BASE, edited
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
    odd_fill_factor,
    power_gap,
    slips,
    usual_vmp,
)
from wattproof.testing import study_of
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


ALL_OF_IT = "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"


@pytest.mark.parametrize(
    ("label", "symbols"),
    [
        # 103 / 20.4 is 5.05 A, over the 5 A printed; 102.5 / 20.45 of up to 5.5 A is none.
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5 A, imp: 4.9 A, pmax: 103 W", []),
        # 25 / 5 is the 5 V printed; 24.5 / 5.5 of up to 5.5 V is 0.81.
        ("voc: 5 V, vmp: 4 V, isc: 6 A, imp: 5 A, pmax: 25 W", []),
        # 27 / 5 is 5.4 V; 26.5 / 5.5 of 5.5 V is just 0.88.
        ("voc: 5 V, vmp: 4 V, isc: 6 A, imp: 5 A, pmax: 27 W", []),
        ("voc: 5 V, vmp: 4 V, isc: 6 A, imp: 5 A, pmax: 28 W", ["Pmax/Imp"]),
    ],
)
def test_a_power_that_rounding_alone_puts_over_a_limit(label: str, symbols: list[str]) -> None:
    found = contradictions(module((ALL_OF_IT, label)))
    assert [each.power_point.symbol for each in found] == symbols


@pytest.mark.parametrize(
    ("label", "factor"),
    [
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A", None),  # 0.79
        ("voc: 24.3 V, vmp: 24 V, isc: 5.2 A, imp: 5.15 A", 24 * 5.15 / (24.3 * 5.2)),
        ("voc: 24.3 V, vmp: 10 V, isc: 5.2 A, imp: 4.9 A", 10 * 4.9 / (24.3 * 5.2)),
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, pmax: 70 W", 70 / (24.3 * 5.2)),
        ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, pmax: 100 W", None),
    ],
)
def test_a_label_that_leaves_a_value_out(label: str, factor: float | None) -> None:
    """Its power is voltage times current then, and has no other to be held against."""
    own = module((ALL_OF_IT, label))
    assert power_gap(own) is None
    found = odd_fill_factor(own)
    assert (found.number if found is not None else None) == (factor and pytest.approx(factor))
    if "pmax" not in label:
        assert own.pmax.number == pytest.approx(own.vmp.number * own.imp.number)
    else:
        assert own.imp.number == pytest.approx(own.pmax.number / 20.4)


COEFFICIENTS = (
    "voc_coefficient: -0.29 %/°C, isc_coefficient: 0.05 %/°C,\n"
    "                pmax_coefficient: -0.36 %/°C, "
)


def test_hot_cells_by_what_the_label_tells_or_what_is_usual() -> None:
    """Voc falls by 0.29 % a kelvin, or by the usual share; so does a Vmp that nothing tells of."""
    for told in (True, False):
        [array] = study_of(BASE if told else edited((COEFFICIENTS, ""))).array.arrays
        [string], [own] = array.all_strings, array.modules
        warmer = string.cells("hottest").number - 25.0
        beta, alpha = own.curve_inputs[5].number, own.curve_inputs[6].number
        assert bool(own.curve_inputs[5].assumptions) is not told
        if told:
            assert (beta, alpha) == (pytest.approx(-0.0029), pytest.approx(0.0005))
            hot = 3 * 24.3 * (1.0 - 0.0029 * warmer)
            assert string.voc("hottest").number == pytest.approx(hot)
        else:
            share = own.curve_inputs[4].number
            assert string.vmp("hottest").number == pytest.approx(3 * 20.4 * (1 + share * warmer))
        assert string.voc("hottest").number < string.voc("standard").number
        assert string.isc("hottest").number == pytest.approx(5.2 * (1.0 + alpha * warmer))
        assert string.voc("standard").number == pytest.approx(3 * 24.3)


@pytest.mark.parametrize(
    ("mounting", "lit"),
    [(", mounting: roof-bonded", False), (", mounting: ground", False),
     (", mounting: open-rack", True), ("", True)],
)  # fmt: skip
def test_a_back_in_the_light_adds_its_share(mounting: str, lit: bool) -> None:
    """70 % of what falls on the back, but where that lies on a roof or on the ground."""
    plan = edited(("max_series_fuse: 15 A", "max_series_fuse: 15 A, bifaciality: 70 %"),
                  (", mounting: roof-gap", mounting))  # fmt: skip
    [array] = study_of(plan).array.arrays
    [string] = array.all_strings
    light = string.climate.rear_light.number
    assert light > 0.0
    amps = 5.2 * (1.0 + 0.7 * light) if lit else 5.2
    assert string.isc("bright").number == pytest.approx(1.25 * amps)
    assert any("mount" in a.key for a in string.isc("bright").assumptions) is (not mounting)
