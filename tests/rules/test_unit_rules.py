"""Rules on starts, heat of units, and relays: limits, missing labels, what is exempt."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, faulty, found, levels, sound
from wattproof.testing import check_examples

SURGE = "inverter-surge-low"
HOT = "unit-too-hot"
RELAY = "relay-closes-in-sun"


@pytest.mark.parametrize("rule", [SURGE, HOT, RELAY])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# Starts.


@pytest.mark.parametrize(("start", "expected"), [("1600 W", []), ("1601 W", ["warning"])])
def test_a_start_at_and_over_the_surge_power(start: str, expected: list[str]) -> None:
    plan = edited(("largest_start: 1400 W", f"largest_start: {start}"), plan=sound(SURGE))
    assert levels(plan, SURGE) == expected


def test_without_a_surge_power_it_gives_no_more_than_its_rating() -> None:
    plan = edited(("surge: 1600 W, ", ""), plan=sound(SURGE))
    [finding] = found(plan, SURGE)
    assert finding.certainty == "assumed"
    assert "asks `mains` for 1400 W, and it gives 800 W" in finding.message
    assert not found(edited((", largest_start: 1400 W", ""), plan=sound(SURGE)), SURGE)


def test_the_inverter_that_would_do_is_told_and_does() -> None:
    [finding] = found(faulty(SURGE), SURGE)
    assert "at least 2000 W" in finding.remedy
    assert not found(edited(("surge: 1600 W", "surge: 2000 W"), plan=faulty(SURGE)), SURGE)


# Heat.


@pytest.mark.parametrize(("limit", "expected"), [("35 °C", []), ("34 °C", ["warning"])])
def test_air_at_and_over_that_of_the_rating(limit: str, expected: list[str]) -> None:
    plan = edited(("derates_above: 40 °C", f"derates_above: {limit}"), plan=sound(HOT))
    assert levels(plan, HOT) == expected


def test_inverters_too_and_silence_where_a_place_or_a_limit_is_missing() -> None:
    inverter = edited(
        ("low_voltage: 11 V", "low_voltage: 11 V, place: cabin, derates_above: 30 °C"),
        plan=sound(SURGE),
    )
    assert [f.subjects for f in found(inverter, HOT)] == [("mains",)]
    for text in ("derates_above: 30 °C, ", ", place: cabin}\nbatteries"):
        plan = edited((text, "}\nbatteries" if "batteries" in text else ""), plan=faulty(HOT))
        assert not found(plan, HOT)


# Relays.


@pytest.mark.parametrize(("closes", "expected"), [("14.4 V", []), ("14.3 V", ["note"])])
def test_the_charge_voltage_at_and_over_that_of_the_relay(closes: str, expected: list[str]) -> None:
    plan = edited(("closes_above: 13.3 V", f"closes_above: {closes}"), plan=faulty(RELAY))
    assert levels(plan, RELAY) == expected


def test_both_banks_and_the_controller_are_told() -> None:
    [finding] = found(faulty(RELAY), RELAY)
    assert finding.message == (
        "`tracker` charges to 14.4 V in the sun, and `joiner` closes at 13.3 V: `start` and "
        "`house` then share the charge"
    )
    assert finding.subjects == ("joiner", "tracker")
