"""An inverter's powers against those that inverters have."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

ODD = "inverter-label-odd"


@pytest.mark.parametrize(
    ("told", "fires"),
    [
        ("power: 50 W", False),
        ("power: 49 W", True),
        ("power: 2 W", True),
        ("power: 0.8 kW", False),
        ("power: 800 W, surge: 800 W", False),
        ("power: 800 W, surge: 799 W", True),
        ("power: 800 W, surge: 1.6 W", True),
    ],
)
def test_by_what_there_is(told: str, fires: bool) -> None:
    plan = edited(("power: 800 W", told), plan=sound(ODD))
    assert levels(plan, ODD) == (["warning"] if fires else [])


def test_what_may_be_meant_is_told() -> None:
    [finding] = found(faulty(ODD), ODD)
    assert "and 0.8 kW may be meant" in finding.message
