"""The array's voltage at the hottest noon against what its controller needs to charge."""

from __future__ import annotations

import re

import pytest

from plans import array_plan, edited
from rule_runs import found_beside_all as found
from wattproof.testing import study_of

HOT = "hot-voltage-under-battery"
STRING = "{module: rigid-100, series: 3, mounting: roof-gap}"
HOME_RUN = "  home-run: {from: roof-joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"
SINGLE = ("series: 3", "series: 1")


def needing(margin: str) -> str:
    """One module, and a tracker that works from 14.2 V and some margin on."""
    return edited(
        SINGLE, ("charge_voltage: 14.2 V", f"charge_voltage: 14.2 V, run_above_battery: {margin}")
    )


def test_hot_voltage_is_that_of_the_curve() -> None:
    """One voltage: what the rule compares is where the curve of the same plan has its maximum."""
    plan = needing("5 V")
    (finding,) = found(plan, HOT)
    curves = study_of(plan).curves.curves[0]
    at_maximum, _, _ = curves.maximum("hottest")
    assert finding.values[0].number == pytest.approx(at_maximum.number, abs=0.03)
    assert finding.values[1].number == pytest.approx(19.2)
    assert "cells at 76 °C" in finding.message  # 40 °C of air and 36.25 K
    by_coefficients = 20.4 * (1 - (0.0036 + 0.0005) * (76.25 - 25))
    assert at_maximum.number == pytest.approx(by_coefficients, rel=0.03)
    assert finding.level == "warning"


def test_what_is_lost_is_what_the_curve_says() -> None:
    plan = needing("5 V")
    (finding,) = found(plan, HOT)
    lost = finding.values[2].number
    curves = study_of(plan).curves.curves[0]
    _, _, most = curves.maximum("hottest")
    left = curves.operating("hottest")
    assert left is not None
    assert lost == pytest.approx(1.0 - left.power.number / most.number, abs=1e-6)
    assert "36 % of the power is lost" in finding.message


def test_the_remedy_for_hot_voltage_holds() -> None:
    (finding,) = found(needing("5 V"), HOT)
    assert finding.remedy == "put at least 2 in series"
    assert not found(needing("5 V").replace("series: 1", "series: 2"), HOT)


@pytest.mark.parametrize(
    ("margin", "level"),
    [("1 V", None), ("3 V", None), ("3.6 V", "note"), ("3.8 V", "note"), ("5 V", "warning")],
)
def test_hot_voltage_around_what_matters(margin: str, level: str | None) -> None:
    """With 16.4 V at its maximum: at 17.2 V needed 2 % is lost, at 17.8 V 6 %, at 18 V 9 %."""
    levels = [finding.level for finding in found(needing(margin), HOT)]
    assert levels == ([level] if level else [])


def test_wires_that_would_take_more_than_all_leave_nothing() -> None:
    """Some 20 V of 16.6 V, were the current the same: no voltage is below nothing."""
    far = needing("5 V").replace("cable: pv-10, length: 4 m", "cable: pv-10, length: 500 m")
    (finding,) = found(far, HOT)
    assert finding.values[0].number == 0.0
    assert finding.level == "warning"
    assert "the wires would take all of the 16.6 V" in finding.message


def test_a_24_volt_bank_is_never_charged_by_one_such_module() -> None:
    plan = edited(
        ("series: 3", "series: 1"),
        ("nominal: 12.8 V", "nominal: 25.6 V"),
        ("charge_voltage: 14.2 V", "charge_voltage: 28.4 V"),
        ("max_charge_voltage: 14.6 V", "max_charge_voltage: 29.2 V"),
    )
    (finding,) = found(plan, HOT)
    assert finding.level == "error"
    assert "20.4 V at maximum power" in finding.message
    assert "24.3 V" in finding.message
    assert finding.remedy == "put at least 2 in series"
    assert not found(plan.replace("series: 1", "series: 2"), HOT)


def test_never_charging_is_an_error_even_where_the_charge_voltage_is_assumed() -> None:
    plan = edited(
        ("series: 3", "series: 1"),
        ("nominal: 12.8 V", "nominal: 25.6 V"),
        ("charge_voltage: 14.2 V, ", ""),
        (", max_charge_voltage: 14.6 V", ""),
    )
    (finding,) = found(plan, HOT)
    assert finding.level == "error"
    assert {a.key for a in finding.assumptions} == {
        "setting of the charge voltage",
        "running margin",
    }


def test_without_a_charge_voltage_the_bank_says() -> None:
    plan = needing("5 V").replace("charge_voltage: 14.2 V, run", "run")
    (finding,) = found(plan, HOT)
    assert finding.values[1].number == pytest.approx(19.6)


def test_a_controller_that_can_boost_needs_only_its_lowest_input() -> None:
    boost = "charge_voltage: 14.2 V, boost: true"
    assert not found(edited(SINGLE, ("charge_voltage: 14.2 V", boost)), HOT)
    lowest = f"{boost}, min_input_voltage: 18.5 V"
    (finding,) = found(edited(SINGLE, ("charge_voltage: 14.2 V", lowest)), HOT)
    assert finding.values[1].number == 18.5


def test_a_module_of_36_cells_charges_through_a_pulse_width_controller() -> None:
    """On the hottest noon a little less flows as the battery fills; it charges all the same."""
    pwm = ("kind: mppt", "kind: pwm")
    assert not found(edited(SINGLE, pwm), HOT)
    assert not found(edited(SINGLE, pwm, ("vmp: 20.4 V", "vmp: 18.0 V")), HOT)
    watts = ("pmax: 100 W", "pmax: 83 W")
    (finding,) = found(edited(SINGLE, pwm, watts, ("vmp: 20.4 V", "vmp: 17.0 V")), HOT)
    assert finding.level == "note"
    assert "% of the current is lost" in finding.message
    volts = re.search(r"at least ([\d.]+) V", finding.remedy)
    assert volts
    label = ("pmax: 100 W", f"pmax: {float(volts[1]) * 4.9:.1f} W")
    assert not found(edited(SINGLE, pwm, label, ("vmp: 20.4 V", f"vmp: {volts[1]} V")), HOT)


def test_a_vehicle_charger_keeps_its_own_window() -> None:
    plan = edited(
        ("kind: mppt", "kind: vehicle-charger"),
        ("charge_voltage: 14.2 V", "charge_voltage: 14.2 V, min_input_voltage: 56 V"),
    )
    (finding,) = found(plan, HOT)
    assert finding.values[1].number == 56.0


def test_unlike_branches_are_judged_by_the_ones_that_a_tracker_follows() -> None:
    """One string of three and a single module: the tracker works at three modules' voltage."""
    strings = f"  long: {STRING}\n  short: {{module: rigid-100, series: 1, mounting: roof-gap}}\n"
    joint = "  roof-joint: {joins: [long, short], rating: 30 A, voltage: 600 V}\n"
    assert not found(array_plan(strings, HOME_RUN, joint), HOT)


def test_coefficients_that_would_leave_no_curve_in_the_heat() -> None:
    """A curve at 60 °C and none at 76 °C: no module has such, so that it counts as not told."""
    plan = edited(SINGLE, ("voc_coefficient: -0.29", "voc_coefficient: -2.0"))
    study = study_of(plan)
    assert len(study.curves.curves) == 1
    assert not [f for f in found(plan, HOT) if "failed" in f.message]


def test_what_the_wires_take_is_no_reason_for_more_in_series() -> None:
    """Hot, one module gives 16.6 V, of which a long thin wire takes a good part."""
    plan = edited(SINGLE, ("size: 10 AWG", "size: 16 AWG"), ("length: 4 m", "length: 30 m"))
    (finding,) = found(plan, HOT)
    assert finding.remedy.startswith("use larger or shorter wires to `tracker`: they take")
    assert "give 16.6 V when hot" in finding.remedy
    assert not found(plan.replace("length: 30 m", "length: 4 m"), HOT)
