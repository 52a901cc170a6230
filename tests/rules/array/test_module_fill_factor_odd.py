"""The fill factor of a label, which no real module has."""

from __future__ import annotations

import re

import pytest

from rule_runs import found_beside_all as found
from rules.array.plans import label

FILL = "module-fill-factor-odd"
CURVE = "module-fits-no-curve"
PRINTED = "voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W"
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
