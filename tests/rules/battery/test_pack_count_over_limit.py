"""Batteries in series and parallel against what their maker allows."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, faulty, found, sound
from wattproof.testing import check_text

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


LEAD = """
wattproof: 1
title: A bank of lead
setting: cabin
code: iec
batteries:
  bank: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, arrangement: 5p}
"""


def test_six_of_lead_in_parallel_share_unlike() -> None:
    assert not found(LEAD, COUNT)
    [finding] = found(edited(("5p", "6p"), plan=LEAD), COUNT)
    assert (finding.level, finding.verdict) == ("warning", "likely")
    assert finding.message.startswith("6 batteries of `bank` are in parallel; more than 5 seldom")
    assert finding.remedy == "use at most 5 in parallel, of 120 Ah each, in place of 6"
    assert not found(edited(("5p", "6p, max_parallel: 6"), plan=LEAD), COUNT)
    [finding] = found(edited(("5p", "11p"), plan=LEAD), COUNT)  # ten is the most that any allow
    assert (finding.level, finding.verdict) == ("warning", "certain")


def test_packs_of_lithium_in_series_are_asked_for_what_their_maker_allows() -> None:
    lithium = edited(("agm, nominal: 12 V", "lithium-iron-phosphate, nominal: 12.8 V"), plan=LEAD)
    for layout, asked in (("2s", True), ("4s", True), ("2p", False)):
        result = check_text(edited(("5p", layout), plan=lithium), RULES)
        decided = {d.rule for q in result.questions for d in q.decides}
        assert (COUNT in decided) == asked
        assert COUNT not in {f.rule for f in result.findings}
    cells = edited(("nominal: 12.8 V", "nominal: 3.2 V"), ("5p", "16s"), plan=lithium)
    result = check_text(cells, RULES)  # bare cells have no switch of their own
    assert COUNT not in {d.rule for q in result.questions for d in q.decides}
    [finding] = found(edited(("5p", "5s"), plan=lithium), COUNT)
    assert (finding.level, finding.verdict) == ("warning", "likely")
