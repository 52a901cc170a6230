"""Cables of a starter motor, by how long they bear its current."""

from __future__ import annotations

import math

import pytest

from plans import edited
from rule_runs import faulty, found, sound

OVERHEATS = "cranking-cable-overheats"


def test_how_long_a_cable_bears_a_start() -> None:
    """IEC 60364-5-54 Annex A: k² = 50926 ln(1 + (105 - 60)/(234.5 + 60)) for copper from 60 °C to
    105 °C; (k 5.26 mm²/200 A)²."""
    [finding] = found(faulty(OVERHEATS), OVERHEATS)
    k2 = 3.45e-3 * 254.5 / 17.241e-6 * math.log(1 + 45 / 294.5)
    assert finding.values[1].number == pytest.approx(k2 * (5.26 / 200) ** 2, rel=0.01)
    assert (finding.level, finding.hazard) == ("error", "fire")
    assert " in 5" in finding.message
    assert finding.message.endswith(" s")


@pytest.mark.parametrize(("size", "count"), [("8 AWG", 0), ("10 AWG", 1)])
def test_the_size_that_bears_ten_seconds(size: str, count: int) -> None:
    plan = edited(("batt-10: {size: 10 AWG", f"batt-10: {{size: {size}"), plan=faulty(OVERHEATS))
    assert len(found(plan, OVERHEATS)) == count


def test_aluminium_bears_less() -> None:
    """148 over 226, squared: 8 AWG of copper bears 12.7 s, of aluminium 5.4 s."""
    plan = edited(
        ("batt-10: {size: 10 AWG, kind: battery, material: copper", ""
         "batt-10: {size: 8 AWG, kind: battery, material: aluminium"),
        plan=faulty(OVERHEATS),
    )  # fmt: skip
    assert len(found(plan, OVERHEATS)) == 1
    assert not found(sound(OVERHEATS), OVERHEATS)
