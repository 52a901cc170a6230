"""Labels at the limits of what real modules have: the last that is taken, and one bit beyond."""

from __future__ import annotations

import math

import pytest

from plans import edited
from wattproof.study.array import label_coefficients, labels
from wattproof.study.array.label_coefficients import Range, odd_coefficients
from wattproof.study.array.labels import BANDS, Band, contradictions, is_nominal, odd_fill_factor
from wattproof.study.array.strings import ModuleStudy
from wattproof.testing import check_text, study_of

LABEL = "vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"
Patch = pytest.MonkeyPatch


def module(*edits: tuple[str, str]) -> ModuleStudy:
    [array] = study_of(edited(*edits)).array.arrays
    return array.modules[0]


def beyond(limit: float, towards: float = math.inf) -> float:
    return math.nextafter(limit, towards)


def test_a_fill_factor_at_either_end_of_the_band(monkeypatch: Patch) -> None:
    """100 W of 24.3 V × 5.2 A, each half of its last digit up or down: 0.778 to 0.805."""
    smallest, largest = 99.5 / (24.35 * 5.25), 100.5 / (24.25 * 5.15)
    own = module()
    for band, odd in (
        ((largest, 1.0), False),
        ((beyond(largest, 1.0), 1.0), True),
        ((0.0, smallest), False),
        ((0.0, beyond(smallest, 0.0)), True),
    ):
        monkeypatch.setitem(labels.FILL_FACTORS, "crystalline", band)
        assert (odd_fill_factor(own) is not None) is odd


def test_a_power_as_far_off_as_is_allowed_contradicts_nothing(monkeypatch: Patch) -> None:
    """15 V × 4 A are 60 W of an odd fill factor, which is told while the power printed agrees."""
    own = module((LABEL, "vmp: 15.0 V, isc: 5.2 A, imp: 4.0 A, pmax: 75 W"))
    gap = labels.power_gap(own)
    assert gap is not None
    assert gap.share.number == pytest.approx(1.0 - 15.05 * 4.05 / 74.5)
    assert gap.product.number == 60.0
    for allowed, told in ((gap.share.number, True), (beyond(gap.share.number, 0.0), False)):
        monkeypatch.setattr(labels, "POWER_TOLERANCE", allowed)
        assert (odd_fill_factor(own) is not None) is told


def test_a_voltage_like_that_of_a_battery(monkeypatch: Patch) -> None:
    """12 V of 24.3 V open is less than any module has; at the least share it may be its own."""
    own = module((LABEL, "vmp: 12 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"))
    share = 12.0 / 24.3
    for least, nominal in ((share, False), (beyond(share), True)):
        band = Band(BANDS["crystalline"].current, (least, 0.82, 0.88))
        monkeypatch.setitem(labels.BANDS, "crystalline", band)
        assert is_nominal(own) is nominal


@pytest.mark.parametrize(
    ("imp", "isc", "contradicts"),
    [("5.200", "5.200", True), ("5.199", "5.200", False), ("5.2", "5.2", False)],
)
def test_as_much_current_at_most_power_as_in_a_short(imp: str, isc: str, contradicts: bool) -> None:
    """Printed to the tenth of an ampere rounding may explain it; to the milliampere it does not."""
    own = module((LABEL, f"vmp: 20.4 V, isc: {isc} A, imp: {imp} A"))
    assert ("Imp" in {c.power_point.symbol.partition("(")[0] for c in contradictions(own)}) is (
        contradicts
    )


def test_rounding_that_leaves_just_the_largest_share(monkeypatch: Patch) -> None:
    own = module((LABEL, "vmp: 20.4 V, isc: 5.2 A, imp: 5.2 A"))
    share = (5.2 - 0.1 / 2) / (5.2 + 0.1 / 2)
    for most, found in ((share, 0), (beyond(share, 0.0), 1)):
        band = Band((0.8, 0.94, most), BANDS["crystalline"].voltage)
        monkeypatch.setitem(labels.BANDS, "crystalline", band)
        assert len(contradictions(own)) == found


def test_a_label_at_every_end_of_its_bands_at_once(monkeypatch: Patch) -> None:
    """9 of 10 A and 8 of 10 V, and 72 W beside the 70 printed: typical where the bands say so."""
    label = {"Voc": 10.0, "Isc": 10.0, "Vmp": 8.0, "Imp": 9.0}
    assert labels._oddity(label, Band((0.9, 0.9, 0.9), (0.8, 0.8, 0.8))) == 0.0
    assert labels._oddity(label, Band((0.8, 0.85, 0.9), (0.8, 0.82, 0.9))) == pytest.approx(0.07)
    printed, gap = {**label, "Pmax": 70.0}, abs(1.0 - 72.0 / 70.0)
    for allowed, real in ((gap, True), (beyond(gap, 0.0), False)):
        monkeypatch.setattr(labels, "POWER_TOLERANCE", allowed)
        assert (labels._oddity(printed, BANDS["crystalline"]) is not None) is real


VOLTAGE = "voc_coefficient: -0.29 %/°C"


@pytest.mark.parametrize(
    ("never_below", "never_above", "certain"),
    [
        (-0.0029, 0.0, False),
        (beyond(-0.0029), 0.0, True),
        (-1.0, -0.0029, False),
        (-1.0, beyond(-0.0029, -1.0), True),
    ],
)
def test_a_coefficient_where_a_slip_becomes_certain(
    monkeypatch: Patch, never_below: float, never_above: float, certain: bool
) -> None:
    odd = Range(-0.0020, -0.0010, never_below, never_above)
    monkeypatch.setitem(label_coefficients.RANGES, "Voc", odd)
    [found] = odd_coefficients(module())
    assert found.relative.number == -0.0029
    assert found.certain is certain


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [
        (-0.0029, -0.0020, True),
        (beyond(-0.0029), -0.0020, False),
        (-0.0040, -0.0029, True),
        (-0.0040, beyond(-0.0029, -1.0), False),
    ],
)
def test_a_slip_is_told_where_it_makes_a_real_coefficient(
    monkeypatch: Patch, low: float, high: float, told: bool
) -> None:
    """+0.29 %/K with its sign back lies in the band, its ends included."""
    monkeypatch.setitem(label_coefficients.RANGES, "Voc", Range(low, high, -0.01, -0.001))
    [found] = odd_coefficients(module((VOLTAGE, VOLTAGE.replace("-0.29", "0.29"))))
    assert ("sign is lost" in found.likely) is told


FULL = {"Voc": 24.3, "Isc": 5.2, "Vmp": 20.4, "Imp": 4.9, "Pmax": 100.0}


@pytest.mark.parametrize(
    ("symbol", "without", "value"),
    [
        ("Voc", "", 20.4 / 0.82),
        ("Isc", "", 4.9 / 0.94),
        ("Isc", "Imp", 100.0 / 20.4 / 0.94),
        ("Vmp", "", 100.0 / 4.9),
        ("Vmp", "Pmax", 0.82 * 24.3),
        ("Vmp", "Imp", 0.82 * 24.3),
        ("Imp", "", 100.0 / 20.4),
        ("Imp", "Pmax", 0.94 * 5.2),
        ("Pmax", "", 20.4 * 4.9),
        ("Pmax", "Imp", 20.4 * 0.94 * 5.2),
    ],
)
def test_one_value_as_the_others_make_it_or_as_it_typically_is(
    symbol: str, without: str, value: float
) -> None:
    """Modules work at 0.94 of their short-circuit current and 0.82 of their open voltage."""
    label = {name: number for name, number in FULL.items() if name != without}
    found = labels._corrected(label, symbol, BANDS["crystalline"])
    assert found == {**label, symbol: pytest.approx(value)}


def slips_of(label: str) -> list[dict[str, tuple[float, float]]]:
    """Each slip that may explain a label: by symbol what is printed, and what was meant."""
    return [
        {
            p.symbol.partition("(")[0]: (p.number, m.number)
            for p, m in zip(s.printed, s.likely, strict=True)
        }
        for s in labels.slips(module(("voc: 24.3 V, " + LABEL, label)))
    ]


def test_two_values_that_changed_places_explain_a_label_alone() -> None:
    currents = slips_of("voc: 24.3 V, vmp: 20.4 V, isc: 4.9 A, imp: 5.2 A, pmax: 100 W")
    assert currents == [{"Isc": (4.9, 5.2), "Imp": (5.2, 4.9)}]
    voltages = slips_of("voc: 20.4 V, vmp: 24.3 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W")
    assert voltages == [{"Voc": (20.4, 24.3), "Vmp": (24.3, 20.4)}]


def test_of_single_slips_the_likeliest_comes_first() -> None:
    """Only another open voltage makes 18 V a label; of 75 W and of 15 V either may be wrong."""
    [wrong] = slips_of("voc: 18 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W")
    assert wrong == {"Voc": (18.0, pytest.approx(20.4 / 0.82))}
    either = slips_of("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 93 W")
    assert [list(slip) for slip in either] == [["Pmax"], ["Vmp"], ["Imp"]]


def test_how_far_a_coefficient_lies_outside_its_band(monkeypatch: Patch) -> None:
    """-0.29 %/K is 0.09 beyond an end at -0.20: 45 % of it; and 0.11 short of one at -0.40."""
    for low, high, margin in ((-0.0020, -0.0010, -0.45), (-0.0060, -0.0040, -0.0011 / 0.0040)):
        monkeypatch.setitem(label_coefficients.RANGES, "Voc", Range(low, high, -0.01, -0.001))
        [found] = odd_coefficients(module())
        assert found.margin == pytest.approx(margin)


@pytest.mark.parametrize(("power", "asked"), [("130 W", False), ("200 W", True), ("220 W", True)])
def test_modules_of_one_power_may_have_twice_the_voltage(power: str, asked: bool) -> None:
    """Three of 22.8 V stand 100 V on a cold morning; three of 45 V do not."""
    plan = f"""\
wattproof: 1
setting: vehicle
datasheets: {{modules: {{m: {{pmax: {power}}}}}}}
strings: {{roof: {{module: m, series: 3, feeds: c}}}}
controllers: {{c: {{kind: mppt, max_input_voltage: 100 V, feeds: b}}}}
batteries: {{b: {{chemistry: agm, nominal: 12 V}}}}
"""
    questions = check_text(plan).questions
    decided = {d.rule for q in questions if "open-circuit voltage" in q.asks for d in q.decides}
    assert ("cold-voltage-over-controller" in decided) is asked
