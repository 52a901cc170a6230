"""Rules on controllers: limits, levels, numbers by hand, and remedies that hold when applied."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from plans import array_plan, edited
from wattproof.finding import Finding
from wattproof.packs import discover
from wattproof.testing import check_examples, check_text, study_of

RULES = discover()
COLD = "cold-voltage-over-controller"
HOT = "hot-voltage-under-battery"
CURRENT = "controller-input-over-current"
STRING = "{module: rigid-100, series: 3, mounting: roof-gap}"
HOME_RUN = "  home-run: {from: roof-joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"


def found(plan: str, rule: str) -> list[Finding]:
    return [f for f in check_text(plan, RULES).findings if f.rule == rule]


def parallel(number: int, in_series: int = 1, **controller: str) -> str:
    """So many strings side by side at one joint."""
    names = [f"string-{k}" for k in range(number)]
    strings = "".join(
        f"  {n}: {{module: rigid-100, series: {in_series}, mounting: open-rack}}\n" for n in names
    )
    joint = f"  roof-joint: {{joins: [{', '.join(names)}], rating: 60 A, voltage: 600 V}}\n"
    return array_plan(strings, HOME_RUN, joint, **controller)


@pytest.mark.parametrize("rule", [COLD, HOT, CURRENT])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# Cold voltage over the controller.


@pytest.mark.parametrize(
    ("limit", "level"),
    [
        ("72.8 V", "error"),  # just over: 3 × 24.3 V = 72.9 V
        ("72.9 V", "warning"),  # at it
        ("75.1 V", "warning"),  # 2.9 % left, labels may be 3 % low
        ("75.2 V", None),  # 3.1 % left
    ],
)
def test_cold_voltage_at_the_limit(limit: str, level: str | None) -> None:
    plan = edited(("coldest: -18 °C", "coldest: 25 °C"), ("100 V", limit))
    assert [f.level for f in found(plan, COLD)] == ([level] if level else [])


def test_the_tolerance_itself_is_silent() -> None:
    """3 × 24.25 V = 72.75 V is 97 % of 75 V."""
    plan = edited(("coldest: -18 °C", "coldest: 25 °C"), ("24.3 V", "24.25 V"), ("100 V", "75 V"))
    assert not found(plan, COLD)


def test_cold_voltage_by_hand() -> None:
    """Four of about 20 V in series are about 80 V in heat and far over 100 V in frost."""
    (finding,) = found(edited(("series: 3", "series: 4")), COLD)
    by_hand = 4 * 24.3 * (1 + 0.0029 * 43)
    assert finding.values[0].number == pytest.approx(by_hand)
    assert "109.3 V" in finding.message
    assert "15 °C" in finding.message  # 97.2 V × (1 + 0.0029 × 9.93 K) = 100 V
    assert finding.margin == pytest.approx(1 - by_hand / 100)
    assert (finding.level, finding.certainty) == ("error", "computed")
    assert finding.subjects == ("tracker", "roof-string")


@pytest.mark.parametrize("kind", ["mppt", "pwm", "vehicle-charger"])
def test_cold_voltage_holds_for_every_kind(kind: str) -> None:
    plan = edited(("series: 3", "series: 4"), ("kind: mppt", f"kind: {kind}"))
    assert [f.level for f in found(plan, COLD)] == ["error"]


@pytest.mark.parametrize(
    ("edits", "volts", "level"),
    [
        # No coldest: -20 °C is assumed, so no error; 75 V: 3 × 24.3 × (1 + 0.0029 × 45).
        ((("  coldest: -18 °C\n", ""), ("100 V", "80 V")), 82.41, "warning"),
        # At 25 °C it is already too much, whatever the coldest morning.
        ((("  coldest: -18 °C\n", ""), ("100 V", "70 V")), 82.41, "error"),
        # No coefficient: the table of the body of rules, 1.18 at -18 °C, is no assumption.
        ((("voc_coefficient: -0.29 %/°C, ", ""), ("100 V", "80 V")), 86.02, "error"),
    ],
)
def test_cold_voltage_where_the_plan_is_silent(
    edits: tuple[tuple[str, str], ...], volts: float, level: str
) -> None:
    (finding,) = found(edited(*edits), COLD)
    assert finding.values[0].number == pytest.approx(volts, abs=0.01)
    assert finding.level == level


@pytest.mark.parametrize(
    ("form", "volts", "remedy"),
    [
        ("4s2p", 109.32, "at most 3 in series instead of 4"),
        ("2p4s", 109.32, "at most 3 in series instead of 4"),
        ("4p2s", None, ""),
    ],
)
def test_short_forms(form: str, volts: float | None, remedy: str) -> None:
    findings = found(edited(("series: 3", f"arrangement: {form}")), COLD)
    if volts is None:
        assert not findings
        return
    (finding,) = findings
    assert finding.values[0].number == pytest.approx(volts, abs=0.01)
    assert remedy in finding.remedy
    assert finding.subjects == ("tracker", "roof-string")


def test_the_remedies_for_cold_voltage_hold() -> None:
    (finding,) = found(edited(("series: 3", "series: 4")), COLD)
    fit = re.search(r"at most (\d+) in series", finding.remedy)
    volts = re.search(r"at least (\d+) V", finding.remedy)
    assert fit
    assert volts
    assert not found(edited(("series: 3", f"series: {fit[1]}")), COLD)
    larger = edited(("series: 3", "series: 4"), ("100 V", f"{volts[1]} V"))
    smaller = edited(("series: 3", "series: 4"), ("100 V", f"{int(volts[1]) - 1} V"))
    assert not found(larger, COLD)
    assert found(smaller, COLD)


def test_no_shorter_string_is_proposed_that_cannot_charge() -> None:
    """One of these cannot hold a tracker over 17.2 V in heat, so two are not cut to one."""
    plan = edited(
        ("series: 3", "series: 2"),
        ("100 V", "50 V"),
        ("charge_voltage: 14.2 V", "charge_voltage: 14.2 V, run_above_battery: 3 V"),
    )
    (finding,) = found(plan, COLD)
    assert finding.remedy == "use a controller with an input limit of at least 57 V"


# Hot voltage under the battery.

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
    [("1 V", None), ("3 V", None), ("3.6 V", "note"), ("3.8 V", "warning"), ("5 V", "warning")],
)
def test_hot_voltage_around_what_matters(margin: str, level: str | None) -> None:
    """With 16.4 V at its maximum: at 17.2 V needed 2 % is lost, at 17.8 V 6 %, at 18 V 9 %."""
    levels = [finding.level for finding in found(needing(margin), HOT)]
    assert levels == ([level] if level else [])


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
    assert {a.key for a in finding.assumptions} == {"charge voltage", "running margin"}


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
    (finding,) = found(edited(SINGLE, pwm, ("vmp: 20.4 V", "vmp: 17.0 V")), HOT)
    assert finding.level == "note"
    assert "% of the current is lost" in finding.message
    volts = re.search(r"at least ([\d.]+) V", finding.remedy)
    assert volts
    assert not found(edited(SINGLE, pwm, ("vmp: 20.4 V", f"vmp: {volts[1]} V")), HOT)


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


# Current over the controller's input.


@pytest.mark.parametrize(("limit", "fires"), [("26.1 A", False), ("26 A", False), ("25.9 A", True)])
def test_input_current_at_the_limit(limit: str, fires: bool) -> None:
    """Four modules of about 5 A side by side: 1.25 × 4 × 5.2 A = 26 A."""
    plan = parallel(4, max_input_current=limit)
    assert bool(found(plan, CURRENT)) is fires


@pytest.mark.parametrize("number", [2, 3, 5, 7])
@pytest.mark.parametrize("isc", ["1.1", "5.3", "8.7", "10.23"])
def test_rounding_never_decides(number: int, isc: str) -> None:
    limit = number * Decimal("1.25") * Decimal(isc)
    plan = parallel(number, max_input_current=f"{limit} A")
    assert not found(plan.replace("isc: 5.2 A", f"isc: {isc} A"), CURRENT)


def test_a_large_array_on_a_tracker_without_a_stated_limit_is_no_fault() -> None:
    assert not found(parallel(8), CURRENT)


def test_modules_in_series_add_no_current() -> None:
    """Four in series are 80 V and 5 A, in parallel 20 V and 20 A."""
    (finding,) = found(parallel(4, max_input_current="20 A"), CURRENT)
    assert finding.values[0].number == pytest.approx(26.0)
    assert "26 A" in finding.message
    assert (finding.level, finding.certainty) == ("error", "computed")
    assert finding.margin == pytest.approx(1 - 26 / 20)
    assert not found(parallel(1, 4, max_input_current="20 A"), CURRENT)


@pytest.mark.parametrize(("rating", "fires"), [("13 A", False), ("12.9 A", True)])
def test_a_pulse_width_controller_passes_all(rating: str, fires: bool) -> None:
    plan = parallel(2).replace("kind: mppt", "kind: pwm").replace("20 A", rating)
    findings = found(plan, CURRENT)
    assert bool(findings) is fires
    if fires:
        assert "rating" in findings[0].message
        assert "in series" not in findings[0].remedy


def test_the_tighter_limit_is_named() -> None:
    plan = parallel(4, max_input_current="15 A").replace("kind: mppt", "kind: pwm")
    (finding,) = found(plan, CURRENT)
    assert "15 A input limit" in finding.message


def test_the_remedies_for_input_current_hold() -> None:
    (finding,) = found(parallel(4, max_input_current="15 A"), CURRENT)
    fit = re.search(r"leave at most (\d+) of 4", finding.remedy)
    longer = re.search(r"put (\d+) in series and (\d+) in parallel", finding.remedy)
    amps = re.search(r"at least (\d+) A", finding.remedy)
    assert fit
    assert longer
    assert amps
    assert not found(parallel(int(fit[1]), max_input_current="15 A"), CURRENT)
    rearranged = parallel(int(longer[2]), int(longer[1]), max_input_current="15 A")
    assert not found(rearranged, CURRENT)
    assert not found(rearranged, COLD)
    assert not found(parallel(4, max_input_current=f"{amps[1]} A"), CURRENT)
