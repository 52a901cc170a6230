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
