"""The best point of a shaded array, at a voltage that its controller cannot use."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found

PEAK = "shaded-peak-under-window"


def test_the_peak_and_the_need_are_told() -> None:
    [finding] = found(faulty(PEAK), PEAK)
    assert finding.level == "warning"
    peak, need, lost = (value.number for value in finding.values)
    assert need == pytest.approx(14.2 + 1.0)
    assert 5.0 < peak < need
    assert lost > 0.2


def test_a_controller_that_raises_the_voltage_gets_it() -> None:
    plan = edited(
        ("blocks_reverse: true}", "blocks_reverse: true, boost: true}"), plan=faulty(PEAK)
    )
    assert not found(plan, PEAK)
