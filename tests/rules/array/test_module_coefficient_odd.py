"""The temperature coefficients on a label against those of real modules."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from wattproof.testing import study_of

COEFFICIENT = "module-coefficient-odd"
THIN = ("max_system_voltage: 600 V}", "max_system_voltage: 600 V, technology: thin-film}")
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
        assert finding.verdict == "certain"


def test_a_coefficient_is_shown_both_ways() -> None:
    (finding,) = found(edited((VOC + WAS[VOC], VOC + "-0.29 V/°C")), COEFFICIENT)
    assert "gives -0.29 V/°C for Voc, which is −1.19 %/K or −290 mV/K" in finding.message
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


@pytest.mark.parametrize("written", ["0.29 %/°C", "-2.9 %/°C", "-0.029 %/°C", "-0.29 V/°C"])
@pytest.mark.parametrize("series", [3, 4])
def test_one_that_no_module_has_counts_as_not_told(written: str, series: int) -> None:
    """By the factor of the body of rules four in series are over 100 V in the cold."""
    count = ("series: 3", f"series: {series}")
    told = edited((VOC + WAS[VOC], VOC + written), count)
    untold = edited((VOC + WAS[VOC] + ", ", ""), count)
    cold = [
        [(f.level, f.message) for f in found(plan, "cold-voltage-over-controller")]
        for plan in (told, untold)
    ]
    assert cold[0] == cold[1]
    assert len(cold[0]) == series - 3


def test_an_odd_one_that_may_be_is_believed() -> None:
    plan = edited((VOC + WAS[VOC], VOC + "-0.51 %/°C"))
    cold = study_of(plan).array.arrays[0].voc("coldest").number
    assert cold == pytest.approx(3 * 24.3 * (1 + 0.0051 * 43))
