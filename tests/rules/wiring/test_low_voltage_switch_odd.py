"""Switches that open at low voltage, by the battery that they are to save."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found, sound


@pytest.mark.parametrize(("volts", "count"), [("10.2 V", 1), ("11.8 V", 0), ("13.6 V", 1)])
def test_a_switch_for_low_voltage_opens_between_empty_and_at_rest(volts: str, count: int) -> None:
    plan = edited(("opens_below: 11.8 V", f"opens_below: {volts}"),
                  plan=sound("low-voltage-switch-odd"))  # fmt: skip
    assert len(found(plan, "low-voltage-switch-odd")) == count


@pytest.mark.parametrize(("opens", "count"), [("12.8 V", 0), ("13.1 V", 0), ("10.2 V", 2)])
def test_a_relay_between_banks_parts_them_when_nothing_charges(opens: str, count: int) -> None:
    """It opens above what lead has at rest; below what lead has when empty it parts nothing."""
    plan = sound(
        "relay-voltage-odd", ("closes_above: 13.3 V", f"closes_above: 13.3 V, opens_below: {opens}")
    )
    assert len(found(plan, "low-voltage-switch-odd")) == count
