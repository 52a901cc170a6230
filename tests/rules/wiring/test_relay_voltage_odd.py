"""Relays that close at a voltage which their banks have always, or never."""

from __future__ import annotations

import pytest

from rule_runs import faulty, found, levels, sound

RELAY = "relay-voltage-odd"


@pytest.mark.parametrize(
    ("closes", "fires"),
    [("12.6 V", True), ("12.8 V", False), ("13.3 V", False), ("14.4 V", False), ("14.8 V", True)],
)
def test_between_rest_and_charge(closes: str, fires: bool) -> None:
    """Lead rests at 12.9 V, within 0.2 V; it is charged to 14.7 V at the most."""
    plan = sound(RELAY, ("closes_above: 13.3 V", f"closes_above: {closes}"))
    assert levels(plan, RELAY) == (["warning"] if fires else [])


def test_words() -> None:
    [finding] = found(faulty(RELAY), RELAY)
    assert "`joiner` closes above 26.6 V" in finding.message
    assert "it never closes" in finding.message
    assert finding.remedy.startswith("set `joiner` to between 12.9 V and 14.")


def test_of_a_lithium_and_a_lead_bank_the_lower_counts() -> None:
    plan = sound(
        RELAY,
        (
            "house: {chemistry: agm, nominal: 12 V",
            "house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V",
        ),
    )
    assert not found(plan, RELAY)


@pytest.mark.parametrize(
    ("opens", "fires"), [("12.8 V", False), ("13.2 V", False), ("13.3 V", True), ("13.8 V", True)]
)
def test_it_opens_below_where_it_closes(opens: str, fires: bool) -> None:
    plan = sound(RELAY, ("closes_above: 13.3 V", f"closes_above: 13.3 V, opens_below: {opens}"))
    assert levels(plan, RELAY) == (["warning"] if fires else [])
    if fires:
        [finding] = found(plan, RELAY)
        assert f"closes above 13.3 V and opens below {opens}" in finding.message


@pytest.mark.parametrize(
    ("opens", "fires"), [("12.2 V", False), ("12.1 V", True), ("11 V", True), ("12.8 V", False)]
)
def test_it_joins_lead_until_both_are_half_empty(opens: str, fires: bool) -> None:
    """Lead that rests at 12.9 V when full has 0.7 V less when it is half full."""
    plan = sound(RELAY, ("closes_above: 13.3 V", f"closes_above: 13.3 V, opens_below: {opens}"))
    assert levels(plan, RELAY) == (["warning"] if fires else [])
    if fires:
        [finding] = found(plan, RELAY)
        assert f"opens only below {opens}" in finding.message
