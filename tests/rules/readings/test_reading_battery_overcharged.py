"""Voltage read at the posts of a battery against the highest that it may be charged with."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES
from rule_runs import found_beside_all as found
from rules.readings.plans import read

OVERCHARGED = "reading-battery-overcharged"
EXACT = "meter: {voltage: 0 %, current: 0 %, zero: 0 A, irradiance: 0 %}"


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
    sound = RULES.rules[OVERCHARGED].sound
    plan = edited(
        (
            "chemistry: lithium-iron-phosphate, nominal: 12.8 V",
            "chemistry: flooded, nominal: 12 V",
        ),
        ("max_charge_voltage: 14.6 V, low_temperature_cutoff: true", "max_charge_voltage: 14.8 V"),
        ("charge_voltage: 14.2 V", f"charge_voltage: 14.4 V{follows}"),
        ("voltage: 14.2 V, stage: absorption", f"voltage: {volts}{air}, {EXACT}"),
        plan=sound,
    )
    assert [f.level for f in found(plan, OVERCHARGED)] == ([level] if level else [])
