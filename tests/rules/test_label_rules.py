"""Rules on labels: fill factor, coefficients, curves, and the fuse that they allow."""

from __future__ import annotations

import re

import pytest

from plans import edited
from wattproof.finding import Finding
from wattproof.packs import discover
from wattproof.testing import check_examples, check_text, study_of

RULES = discover()
FILL = "module-fill-factor-odd"
COEFFICIENT = "module-coefficient-odd"
CURVE = "module-fits-no-curve"
FUSE = "module-fuse-label-low"
PRINTED = "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"


def found(plan: str, rule: str) -> list[Finding]:
    return [f for f in check_text(plan, RULES).findings if f.rule == rule]


def label(values: str, *edits: tuple[str, str]) -> str:
    """The base plan with other values on the label."""
    return edited((PRINTED, values), *edits)


@pytest.mark.parametrize("rule", [FILL, COEFFICIENT, CURVE, FUSE])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


THIN = ("max_system_voltage: 600 V}", "max_system_voltage: 600 V, technology: thin-film}")


@pytest.mark.parametrize(
    ("values", "fires"),
    [
        # Voc × Isc is 24.00 V × 5.000 A = 120 W; half a last digit counts on either side.
        ("voc: 24.00 V, vmp: 16.60 V, isc: 5.000 A, imp: 4.700 A, pmax: 78.0 W", False),  # 0.650
        ("voc: 24.00 V, vmp: 16.53 V, isc: 5.000 A, imp: 4.700 A, pmax: 77.7 W", True),  # 0.6475
        ("voc: 24.00 V, vmp: 16.53 V, isc: 5.00 A, imp: 4.700 A, pmax: 78 W", False),  # rounded
        ("voc: 24.00 V, vmp: 20.41 V, isc: 5.000 A, imp: 4.880 A, pmax: 99.6 W", False),  # 0.830
        ("voc: 24.00 V, vmp: 20.90 V, isc: 5.000 A, imp: 4.820 A, pmax: 100.7 W", True),  # 0.839
        # Without a printed power it is voltage times current; without a current it is the power.
        ("voc: 24.00 V, vmp: 16.00 V, isc: 5.000 A, imp: 4.700 A", True),  # 0.627
        ("voc: 24.00 V, vmp: 16.00 V, isc: 5.000 A, pmax: 75.0 W", True),  # 0.625
        (PRINTED, False),
    ],
)
def test_fill_factor(values: str, fires: bool) -> None:
    assert [f.level for f in found(label(values), FILL)] == (["warning"] if fires else [])


def test_thin_film_has_a_softer_curve() -> None:
    soft = "voc: 24.00 V, vmp: 16.00 V, isc: 5.000 A, imp: 4.500 A, pmax: 72.0 W"  # 0.60
    assert found(label(soft), FILL)
    assert not found(label(soft, THIN), FILL)
    softer = "voc: 24.00 V, vmp: 15.00 V, isc: 5.000 A, imp: 4.200 A, pmax: 63.0 W"  # 0.525
    assert found(label(softer, THIN), FILL)


def test_fill_factor_by_hand_and_a_class_of_battery_as_voltage() -> None:
    plan = label("voc: 24.3 V, vmp: 12 V, isc: 5.2 A, imp: 4.9 A")
    (finding,) = found(plan, FILL)
    assert finding.values[0].number == pytest.approx(12 * 4.9 / (24.3 * 5.2))
    assert finding.margin == pytest.approx(12 * 4.9 / (24.3 * 5.2) / 0.65 - 1)
    assert "Vmp 12 V is the class of a battery" in finding.message
    volts = re.search(r"about ([\d.]+) V", finding.remedy)
    assert volts
    assert not found(plan.replace("vmp: 12 V", f"vmp: {volts[1]} V"), FILL)


def test_a_voltage_of_a_class_that_fits_is_left_alone() -> None:
    assert not found(label("voc: 29.0 V, vmp: 24 V, isc: 4.4 A, imp: 4.17 A, pmax: 100 W"), FILL)
    (other,) = found(label("voc: 24.3 V, vmp: 12.5 V, isc: 5.2 A, imp: 4.9 A"), FILL)
    assert "class of a battery" not in other.message
    assert "Vmp, Imp or Pmax too low" in other.remedy


@pytest.mark.parametrize(
    "values",
    [
        "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 5.5 A, pmax: 112 W",  # impossible
        "voc: 24.3 V, vmp: 12 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W",  # power disagrees
    ],
)
def test_what_another_rule_tells_is_told_once(values: str) -> None:
    assert not found(label(values), FILL)
    assert not found(label(values), CURVE)


VOC, ISC, PMAX = "voc_coefficient: ", "isc_coefficient: ", "pmax_coefficient: "
WAS = {VOC: "-0.29 %/°C", ISC: "0.05 %/°C", PMAX: "-0.36 %/°C"}


@pytest.mark.parametrize(
    ("key", "value", "level", "likely"),
    [
        (VOC, "-0.20 %/°C", None, ""),
        (VOC, "-0.50 %/°C", None, ""),
        (VOC, "-0.19 %/°C", "warning", ""),
        (VOC, "-0.51 %/°C", "warning", ""),
        (VOC, "0.29 %/°C", "error", "its sign is lost: −0.29 %/K"),
        (VOC, "-2.9 %/°C", "error", "off by one place: −0.29 %/K"),
        (VOC, "-0.029 %/°C", "error", "off by one place: −0.29 %/K"),
        (VOC, "-71 %/°C", "error", "its unit is mV/K: −71 mV/K is −0.2922 %/K"),
        (VOC, "-71 mV/°C", None, ""),  # −71 mV/K of 24.3 V is −0.292 %/K
        (VOC, "-0.071 V/°C", None, ""),
        (VOC, "-0.29 V/°C", "error", "its unit is %/K: −0.29 %/K"),  # −1.19 %/K
        (ISC, "0.20 %/°C", None, ""),
        (ISC, "-0.02 %/°C", None, ""),  # a negative one is real
        (ISC, "0.21 %/°C", "warning", ""),
        (ISC, "-0.05 %/°C", "warning", "its sign is lost: 0.05 %/K"),
        (ISC, "0.5 %/°C", "error", "off by one place: 0.05 %/K"),
        (ISC, "2.6 mA/°C", None, ""),  # of 5.2 A: 0.05 %/K
        (PMAX, "-0.22 %/°C", None, ""),
        (PMAX, "-0.65 %/°C", None, ""),
        (PMAX, "-0.66 %/°C", "warning", ""),
        (PMAX, "-0.21 %/°C", "warning", ""),
        (PMAX, "-3.6 %/°C", "error", "−0.36 %/K"),
        (PMAX, "-0.36 W/°C", None, ""),  # of 100 W: −0.36 %/K
    ],
)
def test_coefficients(key: str, value: str, level: str | None, likely: str) -> None:
    findings = found(edited((key + WAS[key], key + value)), COEFFICIENT)
    assert [f.level for f in findings] == ([level] if level else [])
    for finding in findings:
        assert likely in finding.remedy
        assert finding.margin is not None
        assert finding.margin < 0
        assert finding.certainty == "computed"


def test_a_coefficient_is_shown_both_ways() -> None:
    (finding,) = found(edited((VOC + WAS[VOC], VOC + "-0.29 V/°C")), COEFFICIENT)
    assert "gives -0.29 V/°C for Voc, which is −1.193 %/K or −290 mV/K" in finding.message
    assert finding.values[0].number == pytest.approx(-0.29 / 24.3)


def test_the_likely_coefficient_is_one_of_a_real_module() -> None:
    plan = edited((VOC + WAS[VOC], VOC + "-2.9 %/°C"))
    (finding,) = found(plan, COEFFICIENT)
    percent = re.search(r"by one place: −([\d.]+) %/K", finding.remedy)
    assert percent
    assert not found(plan.replace("-2.9 %/°C", f"-{percent[1]} %/K"), COEFFICIENT)


def test_coefficients_that_are_left_out_are_not_judged() -> None:
    plan = edited((f"{VOC}-0.29 %/°C, ", ""), (f"{ISC}0.05 %/°C", "bypass_diodes: 2"))
    assert not found(plan, COEFFICIENT)


def test_thin_film_power_may_fall_less() -> None:
    plan = edited((PMAX + WAS[PMAX], PMAX + "-0.20 %/°C"))
    assert found(plan, COEFFICIENT)
    assert not found(edited(THIN, plan=plan), COEFFICIENT)


def test_a_label_without_a_curve() -> None:
    """Imp is 0.99 of Isc and Vmp 0.80 of Voc: the bend is sharper than a diode's."""
    plan = label("voc: 24.3 V, vmp: 19.4 V, isc: 5.2 A, imp: 5.15 A, pmax: 100 W")
    (finding,) = found(plan, CURVE)
    assert finding.level == "note"
    assert "a simpler curve is drawn" in finding.message
    assert finding.values[0].number == pytest.approx(5.15 / 5.2)
    assert finding.remedy
    model = study_of(plan).curves.models["rigid-100"]
    assert model.refusal
    assert model.fit is not None
    assert not found(plan.replace("vmp: 19.4 V", "vmp: 20.4 V").replace("5.15 A", "4.9 A"), CURVE)


def test_a_curve_that_a_coefficient_spoils_is_told_once() -> None:
    plan = edited((PMAX + WAS[PMAX], PMAX + "0.36 %/°C"))
    assert study_of(plan).curves.models["rigid-100"].refusal
    assert not found(plan, CURVE)


@pytest.mark.parametrize(
    ("code", "amps", "fires"),
    [
        ("nec-2023", "8.125 A", False),  # at it: 1.5625 × 5.2 A
        ("nec-2023", "8 A", True),
        ("iec", "8 A", False),  # 1.5 × 5.2 A = 7.8 A
        ("iec", "7.8 A", False),
        ("iec", "7.7 A", True),
        ("abyc-e11", "7.7 A", True),
        ("iso-13297", "7.7 A", True),
        ("as-nzs-3001", "7.8 A", False),
        ("as-nzs-3001", "7.7 A", True),
    ],
)
def test_the_fuse_on_the_label(code: str, amps: str, fires: bool) -> None:
    plan = edited(
        ("max_series_fuse: 15 A", f"max_series_fuse: {amps}"), ("code: nec-2023", f"code: {code}")
    )
    assert [f.level for f in found(plan, FUSE)] == (["note"] if fires else [])
    beside = edited(("series: 3", "arrangement: 3s2p"), plan=plan)
    assert [f.level for f in found(beside, FUSE)] == (["warning"] if fires else [])


def test_how_many_may_stand_side_by_side_without_fuses() -> None:
    """1.25 × 5.2 A = 6.5 A from one neighbour: within 7 A; not within 6 A."""
    plan = edited(("max_series_fuse: 15 A", "max_series_fuse: 7 A"))
    (finding,) = found(plan, FUSE)
    assert finding.margin == pytest.approx(7 / 8.125 - 1)
    assert "at most 2 strings of it in parallel" in finding.remedy
    (finding,) = found(plan.replace("max_series_fuse: 7 A", "max_series_fuse: 6 A"), FUSE)
    assert "in series only" in finding.remedy


def test_a_label_without_a_fuse_is_not_judged() -> None:
    assert not found(edited(("max_series_fuse: 15 A, ", "")), FUSE)
