"""The array's open-circuit voltage on the coldest bright morning against the controller's input."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import found_beside_all as found

COLD = "cold-voltage-over-controller"


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
    assert "109 V" in finding.message
    assert "15 °C" in finding.message  # 97.2 V × (1 + 0.0029 × 9.93 K) = 100 V
    assert finding.margin == pytest.approx(1 - by_hand / 100)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert finding.subjects == ("tracker", "roof-string")


def test_no_temperature_is_told_where_any_air_is_too_cold() -> None:
    """4 × 24.3 V × (1 − 0.0029 × 35) = 87.3 V in the hottest air that there is."""
    for limit, told in (("88 V", True), ("86 V", False)):
        (finding,) = found(edited(("series: 3", "series: 4"), ("100 V", limit)), COLD)
        assert ("reached at" in finding.message) is told


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


@pytest.mark.parametrize(("above", "shorter"), [("2 V", True), ("5 V", False)])
def test_no_shorter_string_is_proposed_that_cannot_charge(above: str, shorter: bool) -> None:
    """One of these nearly holds a tracker over 16.2 V in heat, and never over 19.2 V."""
    plan = edited(
        ("series: 3", "series: 2"),
        ("100 V", "50 V"),
        ("charge_voltage: 14.2 V", f"charge_voltage: 14.2 V, run_above_battery: {above}"),
    )
    (finding,) = found(plan, COLD)
    assert finding.remedy.endswith("use a controller with an input limit of at least 57 V")
    assert finding.remedy.startswith("put at most 1 in series instead of 2") is shorter


@pytest.mark.parametrize(("stands", "first"), [("25 A", "put at most 1"), ("12 A", "use a")])
def test_no_strings_side_by_side_are_proposed_first_that_give_too_much(
    stands: str, first: str
) -> None:
    """Two of 5.2 A side by side give 13 A in bright sun."""
    plan = edited(
        ("series: 3", "series: 2"),
        ("max_input_voltage: 100 V", f"max_input_voltage: 45 V, max_input_current: {stands}"),
    )
    [finding] = found(plan, COLD)
    assert finding.remedy.startswith(first)
    assert ("if the controller's input stands their current" in finding.remedy) is (
        stands == "12 A"
    )


OPEN = """\
wattproof: 1
setting: vehicle
code: nec-2023
site: {coldest: -10 °C}
datasheets:
  modules:
    panel: {voc: 28.8 V, vmp: 24 V, isc: 8.8 A, voc_coefficient: -0.3 %/°C}
strings:
  roof: {module: panel, arrangement: open, count: 2, FEEDS}
controllers:
  small: {kind: mppt, max_input_voltage: 30 V, max_output_current: 8 A, feeds: house}
  other: {kind: mppt, max_input_voltage: OTHER, max_output_current: 8 A, feeds: house}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
"""


@pytest.mark.parametrize(
    ("feeds", "other", "told"),
    [
        ("feeds: small", "100 V", True),  # 28.8 V × (1 + 0.3 % × 35) = 31.8 V
        ("feeds: other", "100 V", False),
        ("controllers: [small, other]", "100 V", False),  # all of them on the other one
        ("controllers: [small, other]", "31 V", True),
        ("controllers: [small, other]", "open", False),
        ("feeds: other", "32 V", False),
    ],
)
def test_one_module_alone_may_be_too_much_however_they_are_joined(
    feeds: str, other: str, told: bool
) -> None:
    plan = OPEN.replace("FEEDS", feeds).replace("OTHER", other)
    messages = [f.message for f in found(plan, COLD)]
    limit = "31 V input limit of `other`" if other == "31 V" else "30 V input limit of `small`"
    said = f"31.8 V of one `panel` alone is over the {limit}, however they are joined"
    assert messages == [f"cold open-circuit voltage {said}"] * told


def test_a_voltage_that_nobody_told_is_no_error_of_one_alone() -> None:
    plan = OPEN.replace("FEEDS", "feeds: small").replace("OTHER", "100 V")
    plan = plan.replace("voc: 28.8 V, vmp: 24 V", "vmp: 24 V")
    assert "error" not in [f.level for f in found(plan, COLD)]


def test_in_the_place_of_a_power_box_only_another_will_do() -> None:
    plan = """\
wattproof: 1
setting: portable
site: {coldest: 0 °C}
datasheets:
  modules:
    fold: {voc: 24.1 V, vmp: 20 V, isc: 10.5 A, build: folding, voc_coefficient: -0.3 %/°C}
  cables:
    lead: {size: 4 mm², kind: pv}
strings:
  lawn: {module: fold, series: 2, mounting: ground, portable: true}
power_boxes:
  box: {max_input_voltage: 28 V, max_input_current: 20 A}
wires:
  run: {from: lawn, to: box.pv, cable: lead, length: 3 m}
"""
    [finding] = found(plan, COLD)
    assert finding.remedy.startswith("use a power box with an input limit of at least 54 V")
    assert finding.remedy.endswith("if the power box's input stands their current")
