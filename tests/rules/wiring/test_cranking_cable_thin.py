"""Cables of a starter motor, by what they leave it of the battery's voltage."""

from __future__ import annotations

import pytest

from rule_runs import RULES, found, sound


def test_what_the_cables_of_a_starter_lose() -> None:
    """200 A through 2 × 1.5 m of 8 AWG, some 2.06 mΩ/m cold: 1.2 V; at most 0.5 V a pole."""
    [finding] = found(
        RULES.rules["cranking-cable-thin"].faulty.of(sound("cranking-cable-thin")),
        "cranking-cable-thin",
    )
    assert finding.values[0].number == pytest.approx(200 * 3.0 * 2.06e-3, rel=0.03)
    assert finding.values[1].number == 1.0
