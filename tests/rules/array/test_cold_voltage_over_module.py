"""Open-circuit voltage on the coldest morning against what the modules are built for."""

from __future__ import annotations

import re

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rules.curves.plans import with_sheet

MODULE = "cold-voltage-over-module"
WARM = ("coldest: -18 °C", "coldest: 25 °C")  # 3 × 24.3 V = 72.9 V, as on the label
COLD = 3 * 24.3 * (1 + 0.0029 * 43)  # 82.0 V


AT_THE_LIMIT = [("75.2 V", None), ("75.1 V", "warning"), ("72.9 V", "warning"), ("72.8 V", "error")]
"""3 % of 75.155 V are what labels may hide: 72.9 V / 0.97."""


@pytest.mark.parametrize(("limit", "level"), AT_THE_LIMIT)
def test_system_voltage_at_the_limit(limit: str, level: str | None) -> None:
    plan = edited(WARM, ("max_system_voltage: 600 V", f"max_system_voltage: {limit}"))
    findings = found(plan, MODULE)
    assert [f.level for f in findings] == ([level] if level else [])
    assert ("within the tolerance of labels" in str(findings)) == (level == "warning")


def test_system_voltage_by_hand() -> None:
    (finding,) = found(edited(("max_system_voltage: 600 V", "max_system_voltage: 60 V")), MODULE)
    assert finding.values[0].number == pytest.approx(COLD)
    assert "82 V" in finding.message
    assert finding.margin == pytest.approx(1 - COLD / 60)
    assert (finding.level, finding.verdict) == ("error", "certain")
    assert finding.subjects == ("roof-string", "rigid-100")


@pytest.mark.parametrize(
    ("build", "series", "level"),
    [
        ("rigid", 3, None),  # 600 V is assumed
        ("flexible", 3, None),  # so is it
        ("folding", 3, "warning"),
        ("folding", 62, "error"),  # 1507 V at 25 °C: over any module that is built
    ],
)
def test_system_voltage_where_the_label_is_silent(
    build: str, series: int, level: str | None
) -> None:
    plan = edited(
        (", max_system_voltage: 600 V", f", build: {build}"), ("series: 3", f"series: {series}")
    )
    findings = found(plan, MODULE)
    assert [f.level for f in findings] == ([level] if level else [])
    if level:
        assert {a.key for a in findings[0].assumptions} == {"maximum system voltage"}
        assert "`max_system_voltage`" in findings[0].remedy


def test_only_the_weak_module_of_a_mixed_string_is_named() -> None:
    sheet = "fold-100: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, max_system_voltage: 60 V}"
    plan = edited(("module: rigid-100, series: 3", "modules: [rigid-100, rigid-100, fold-100]"))
    (finding,) = found(with_sheet(sheet, plan), MODULE)
    assert finding.subjects == ("roof-string", "fold-100")


def test_the_remedies_for_system_voltage_hold() -> None:
    plan = edited(("max_system_voltage: 600 V", "max_system_voltage: 60 V"))
    (finding,) = found(plan, MODULE)
    fit = re.search(r"at most (\d+) in series", finding.remedy)
    volts = re.search(r"modules rated (\d+) V", finding.remedy)
    assert fit
    assert volts
    assert not found(plan.replace("series: 3", f"series: {fit[1]}"), MODULE)
    assert not found(plan.replace("voltage: 60 V", f"voltage: {volts[1]} V"), MODULE)


@pytest.mark.parametrize(("form", "fires"), [("3s2p", True), ("2p3s", True), ("3p2s", False)])
def test_short_forms_add_only_what_is_in_series(form: str, fires: bool) -> None:
    plan = edited(
        ("max_system_voltage: 600 V", "max_system_voltage: 60 V"),
        ("series: 3", f"arrangement: {form}"),
    )
    findings = found(plan, MODULE)
    assert bool(findings) is fires
    assert all(f.subjects == ("roof-string", "rigid-100") for f in findings)
