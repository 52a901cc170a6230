"""A relay between two banks that the charge from the sun closes."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels

RELAY = "relay-closes-in-sun"


@pytest.mark.parametrize(("closes", "expected"), [("14.4 V", []), ("14.3 V", ["note"])])
def test_the_charge_voltage_at_and_over_that_of_the_relay(closes: str, expected: list[str]) -> None:
    plan = edited(("closes_above: 13.3 V", f"closes_above: {closes}"), plan=faulty(RELAY))
    assert levels(plan, RELAY) == expected


def test_both_banks_and_the_controller_are_told() -> None:
    [finding] = found(faulty(RELAY), RELAY)
    assert finding.message == (
        "`tracker` charges to 14.4 V in the sun, and `joiner` closes at 13.3 V: `house` and "
        "`start` then share the charge"
    )
    assert finding.subjects == ("joiner", "tracker")


def test_the_voltage_at_which_it_opens_goes_with_that_at_which_it_closes() -> None:
    """Alone it would say that the relay saves a battery."""
    relay = "closes_above: 13.3 V"
    plan = edited((relay, f"{relay}, opens_below: 12.8 V"), plan=faulty(RELAY))
    [finding] = found(plan, RELAY)
    assert "leave `closes_above` and `opens_below` out" in finding.remedy
    [alone] = found(faulty(RELAY), RELAY)
    assert "leave `closes_above` out" in alone.remedy


def test_nothing_is_written_that_would_take_its_work_from_a_relay() -> None:
    """A relay without its voltage is a switch that somebody turns: who wires it has to decide."""
    [finding] = found(faulty(RELAY), RELAY)
    assert not finding.ways
