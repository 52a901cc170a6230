"""The array's voltage at the hottest noon against what its controller needs to charge."""

from __future__ import annotations

import math
import re

import pytest

from plans import array_plan, edited
from rule_runs import found_beside_all as found

HOT = "hot-voltage-under-battery"
STRING = "{module: rigid-100, series: 3, mounting: roof-gap}"
HOME_RUN = "  home-run: {from: roof-joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"


def hot_module() -> float:
    """Vmp with cells at 40 °C of air and the published rise over a roof with a gap (V)."""
    cells = 40 + 1000 * math.exp(-2.98 - 0.0471) + 1
    return 20.4 * (1 - (0.0036 + 0.0005) * (cells - 25))


def test_hot_voltage_by_hand() -> None:
    (finding,) = found(edited(("series: 3", "series: 1")), HOT)
    drop = 2 * 4.9 * 4 * 1.24 / 304.8  # V, 10 AWG stranded: 1.24 Ω in 1000 ft at 75 °C
    got = hot_module() - drop
    assert finding.values[0].number == pytest.approx(got, abs=0.02)
    assert finding.values[1].number == pytest.approx(15.2)
    assert finding.margin == pytest.approx(got / 15.2 - 1, abs=2e-3)
    assert "cells at 89 °C" in finding.message
    assert (finding.level, finding.certainty) == ("warning", "assumed")  # 1 V to go on is assumed


def test_the_remedy_for_hot_voltage_holds() -> None:
    (finding,) = found(edited(("series: 3", "series: 1")), HOT)
    assert finding.remedy == "put at least 2 in series"
    assert not found(edited(("series: 3", "series: 2")), HOT)


@pytest.mark.parametrize(
    ("charge", "fires"), [("13.5 V", False), ("13.8 V", False), ("13.9 V", True), ("14.4 V", True)]
)
def test_hot_voltage_around_the_limit(charge: str, fires: bool) -> None:
    """At the tracker stand 14.85 V, so with 1 V to go on 13.85 V can be charged."""
    plan = edited(
        ("series: 3", "series: 1"), ("charge_voltage: 14.2 V", f"charge_voltage: {charge}")
    )
    assert bool(found(plan, HOT)) is fires


def test_what_the_controller_states_to_go_on_is_taken() -> None:
    extra = "charge_voltage: 13.9 V, run_above_battery: 0.5 V"
    plan = edited(("series: 3", "series: 1"), ("charge_voltage: 14.2 V", extra))
    assert not found(plan, HOT)


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
    assert finding.remedy == "put at least 2 in series"  # 2 × 15.0 V − 0.2 V is over 29.4 V
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
    assert {a.key for a in finding.assumptions} == {"charge voltage", "running margin"}


def test_without_a_charge_voltage_the_bank_says() -> None:
    plan = edited(("series: 3", "series: 1"), (" charge_voltage: 14.2 V,", ""))
    (finding,) = found(plan, HOT)
    assert finding.values[1].number == pytest.approx(15.6)


def test_a_controller_that_can_boost_needs_only_its_lowest_input() -> None:
    single = ("series: 3", "series: 1")
    boost = "charge_voltage: 14.2 V, boost: true"
    assert not found(edited(single, ("charge_voltage: 14.2 V", boost)), HOT)
    lowest = f"{boost}, min_input_voltage: 16 V"
    (finding,) = found(edited(single, ("charge_voltage: 14.2 V", lowest)), HOT)
    assert finding.values[1].number == 16.0


def test_a_pulse_width_controller_needs_the_charge_voltage_alone() -> None:
    """15.0 V of hot module charge to 14.2 V; an 18 V one gives 13.2 V and does not."""
    single, pwm = ("series: 3", "series: 1"), ("kind: mppt", "kind: pwm")
    assert not found(edited(single, pwm), HOT)
    (finding,) = found(edited(single, pwm, ("vmp: 20.4 V", "vmp: 18.0 V")), HOT)
    assert finding.level == "warning"
    assert finding.values[0].number == pytest.approx(hot_module() * 18.0 / 20.4)
    volts = re.search(r"at least ([\d.]+) V", finding.remedy)
    assert volts
    assert not found(edited(single, pwm, ("vmp: 20.4 V", f"vmp: {volts[1]} V")), HOT)


def test_a_vehicle_charger_keeps_its_own_window() -> None:
    plan = edited(
        ("kind: mppt", "kind: vehicle-charger"),
        ("charge_voltage: 14.2 V", "charge_voltage: 14.2 V, min_input_voltage: 50 V"),
    )
    (finding,) = found(plan, HOT)
    assert finding.values[1].number == 50.0
    assert finding.values[0].number == pytest.approx(3 * hot_module(), abs=0.3)


def test_unlike_branches_are_judged_by_the_ones_that_a_tracker_follows() -> None:
    """One string of three and a single module: the tracker works at three modules' voltage."""
    strings = f"  long: {STRING}\n  short: {{module: rigid-100, series: 1, mounting: roof-gap}}\n"
    joint = "  roof-joint: {joins: [long, short], rating: 30 A, voltage: 600 V}\n"
    assert not found(array_plan(strings, HOME_RUN, joint), HOT)
