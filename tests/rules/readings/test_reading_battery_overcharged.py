"""Voltage read at the posts of a battery against the highest that it may be charged with."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES
from rule_runs import found_beside_all as found
from rules.readings.plans import read

OVERCHARGED = "reading-battery-overcharged"
EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"


def on_lead(
    reading: str, source: str = "charge_voltage: 14.4 V", chemistry: str = "flooded"
) -> str:
    """A reading at the posts of a lead battery that may be charged to 14.8 V."""
    lithium = "max_charge_voltage: 14.6 V, low_temperature_cutoff: true"
    return edited(
        (
            "chemistry: lithium-iron-phosphate, nominal: 12.8 V",
            f"chemistry: {chemistry}, nominal: 12 V",
        ),
        (lithium, "max_charge_voltage: 14.8 V"),
        ("charge_voltage: 14.2 V", source),
        ("voltage: 14.2 V, stage: absorption", reading),
        plan=RULES.rules[OVERCHARGED].sound,
    )


@pytest.mark.parametrize(
    ("text", "level"),
    [
        ("at: house, voltage: 14.6 V", None),
        ("at: house, voltage: 14.67 V", None),  # half a per cent of the meter
        ("at: house, voltage: 14.68 V", "warning"),  # which is assumed
        (f"at: house, voltage: 14.61 V, {EXACT}", "error"),
        ("at: tracker.battery, voltage: 15.2 V, posts_voltage: 15.1 V, current: 20 A", "error"),
        ("at: tracker.battery, voltage: 15.2 V", None),  # not at the posts
    ],
)
def test_posts_over_what_the_label_allows(text: str, level: str | None) -> None:
    assert [f.level for f in found(read(text), OVERCHARGED)] == ([level] if level else [])


@pytest.mark.parametrize(
    ("volts", "told", "also"),
    [
        ("15.6 V", False, ""),  # a bad way may take 8 % of 14.6 V, and its meter half a per cent
        ("15.9 V", True, ""),
        ("27 V", True, "; it would be right at the solar input of `tracker`"),
        ("27 V, posts_voltage: 14.1 V", False, ""),  # what the posts have is known
    ],
)
def test_controller_gives_more_than_all_that_a_way_may_lose(
    volts: str, told: bool, also: str
) -> None:
    """Two modules of 20.4 V at their best point and 24.3 V open stand at the input."""
    plan = edited(("series: 3", "series: 1"), plan=read(f"at: tracker.battery, voltage: {volts}"))
    messages = [f.message for f in found(plan, OVERCHARGED)]
    assert bool(messages) is told
    assert all(also in message for message in messages)


@pytest.mark.parametrize(
    ("chemistry", "volts", "told"),
    [("flooded", "16.2 V", False), ("flooded", "17.6 V", True), ("agm", "16.2 V", True)],
)
def test_flooded_lead_is_equalised_above_its_charge_voltage(
    chemistry: str, volts: str, told: bool
) -> None:
    plan = on_lead(f"voltage: {volts}, stage: equalise, {EXACT}", chemistry=chemistry)
    assert bool(found(plan, OVERCHARGED)) is told


@pytest.mark.parametrize(
    ("volts", "air", "follows", "level"),
    [
        # 14.8 V and 25 K of 24 mV: 15.4 V, whatever the source says of itself.
        ("15.35 V", ", air_temperature: 0 °C", ", compensates_temperature: true", None),
        ("15.35 V", ", air_temperature: 0 °C", "", None),
        ("15.35 V", ", air_temperature: 0 °C", ", compensates_temperature: false", None),
        ("15.45 V", ", air_temperature: 0 °C", ", compensates_temperature: true", "error"),
        ("14.85 V", ", air_temperature: 30 °C", ", compensates_temperature: true", "error"),
        # As cold as the site gets: 15.83 V.
        ("15.8 V", "", ", compensates_temperature: true", "warning"),
        ("15.8 V", "", "", "warning"),
        ("15.8 V", "", ", compensates_temperature: false", "error"),
        ("15.9 V", "", "", "error"),
    ],
)
def test_lead_in_the_cold_is_charged_higher(
    volts: str, air: str, follows: str, level: str | None
) -> None:
    plan = on_lead(f"voltage: {volts}{air}, {EXACT}", f"charge_voltage: 14.4 V{follows}")
    assert [f.level for f in found(plan, OVERCHARGED)] == ([level] if level else [])


@pytest.mark.parametrize(
    ("where", "volts", "told"),
    [
        ("house", "26.6 V", True),
        ("tracker.battery", "26.6 V", True),
        ("house", "53 V", True),
        ("house", "16.5 V", False),
    ],
)
def test_a_bank_of_twice_the_voltage(where: str, volts: str, told: bool) -> None:
    """25.6 V and 51.2 V where 12.8 V is planned: what hangs on it is parted first."""
    (finding,) = found(read(f"at: {where}, voltage: {volts}"), OVERCHARGED)
    assert ("V would have so much" in finding.message) is told
    assert finding.remedy.startswith("part from it what is made for 12.8 V") is told
