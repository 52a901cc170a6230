"""Surge arresters of another system voltage than what they lie across."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

ARRESTER = "arrester-unfit"


@pytest.mark.parametrize(
    ("voltage", "told"),
    [
        ("14.5 V", ["error"]),
        ("14.6 V", []),  # what the battery may be charged to
        ("29.2 V", []),
        ("29.3 V", ["warning"]),  # twice that
        ("600 V", ["warning"]),
    ],
)
def test_across_a_battery(voltage: str, told: list[str]) -> None:
    plan = sound(ARRESTER, ("voltage: 24 V", f"voltage: {voltage}"))
    assert levels(plan, ARRESTER) == told


@pytest.mark.parametrize(
    ("voltage", "told"), [("90 V", []), ("200 V", []), ("201 V", ["warning"]), ("60 V", [])]
)
def test_across_an_array(voltage: str, told: list[str]) -> None:
    """The input stands 100 V. One under the cold voltage is found by the rule on that."""
    plan = sound(
        ARRESTER, ("across: house, voltage: 24 V", f"across: tracker.pv, voltage: {voltage}")
    )
    assert levels(plan, ARRESTER) == told


def test_words_and_remedy() -> None:
    [finding] = found(faulty(ARRESTER), ARRESTER)
    assert (finding.level, finding.hazard) == ("error", "fire")
    assert (
        "`surge` is made for 12 V and sits across `house`, which reaches 14.6 V on charge"
        in finding.message
    )
    assert "some 18 V" in finding.remedy


def test_of_a_bank_of_24_volts() -> None:
    plan = edited(
        ("nominal: 12.8 V", "nominal: 25.6 V"),
        ("max_charge_voltage: 14.6 V", "max_charge_voltage: 29.2 V"),
        (" charge_voltage: 14.2 V", " charge_voltage: 28.4 V"),
        plan=sound(ARRESTER),
    )
    assert levels(plan, ARRESTER) == ["error"]  # 24 V across a bank of 24 V
