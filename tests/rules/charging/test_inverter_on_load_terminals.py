"""An inverter that hangs on the load terminals of a controller."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound

INVERTER = "inverter-on-load-terminals"


def test_an_inverter_on_load_terminals() -> None:
    """150 W / (0.9 × 11 V) = 15.2 A."""
    [finding] = found(faulty(INVERTER), INVERTER)
    assert finding.level == "error"
    assert finding.message == (
        "`mains` draws 15.2 A from the load terminals of `tracker`, rated 15 A, and no inverter "
        "belongs there"
    )
    assert finding.subjects == ("mains", "tracker")
    assert finding.margin == pytest.approx(1 - 150 / 9.9 / 15)
    assert "to the battery or its busbar" in finding.remedy
    assert not found(sound(INVERTER), INVERTER)


def test_it_does_not_belong_there_within_the_rating_or_without_one() -> None:
    for edit in (("load_current: 15 A", "load_current: 40 A"), ("load_current: 15 A,", "")):
        [finding] = found(edited(edit, plan=faulty(INVERTER)), INVERTER)
        assert (finding.level, finding.margin) == ("error", None)
    bare = edited((", efficiency: 90 %, low_voltage: 11 V", ""), plan=faulty(INVERTER))
    [finding] = found(bare, INVERTER)
    assert (finding.level, finding.verdict) == ("error", "certain")  # whatever its current is
