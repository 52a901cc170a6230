"""Batteries in series and parallel against what their maker allows."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound

COUNT = "pack-count-over-limit"
HALF = "load-on-half-bank"


def test_too_many_in_parallel_and_in_series() -> None:
    [finding] = found(faulty(COUNT), COUNT)
    assert finding.level == "error"
    assert finding.message == "3 batteries of `house` are in parallel, and its maker allows 2"
    assert finding.margin == pytest.approx(-0.5)
    assert finding.remedy == "use at most 2 in parallel, of 150 Ah each, in place of 3"
    series = edited(
        (
            "max_parallel: 2, arrangement: 2p,\n          each_pack: {fuse: pack-fuse}",
            "max_series: 1, arrangement: 2s",
        ),
        ("nominal: 12.8 V", "nominal: 6.4 V"),
        plan=sound(COUNT),
    )
    [finding] = found(series, COUNT)
    assert "2 batteries of `house` are in series, and its maker allows 1" in finding.message
    assert "a battery of the full voltage" in finding.remedy


def test_batteries_that_wires_join_count_too() -> None:
    upper = "upper: {chemistry: agm, nominal: 12 V, capacity: 100 Ah"
    assert not found(sound(HALF), COUNT)
    plan = edited((upper, f"{upper}, max_series: 1"), plan=sound(HALF))
    [finding] = found(plan, COUNT)
    assert finding.subjects == ("upper",)
    assert "2 batteries of `upper` are in series" in finding.message
    plan = edited((upper, f"{upper}, max_series: 2, max_parallel: 1"), plan=sound(HALF))
    assert not found(plan, COUNT)
