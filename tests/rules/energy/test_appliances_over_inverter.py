"""What boils and cooks on an inverter, against the power that it gives."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound

HEAVY = "appliances-over-inverter"


def running(kinds: str, watts: str) -> str:
    return edited(
        ("[laptop, television]", kinds), ("power: 800 W", f"power: {watts}"), plan=sound(HEAVY)
    )


def test_one_that_takes_more_than_the_inverter_gives() -> None:
    [finding] = found(faulty(HEAVY), HEAVY)
    assert finding.message == "a kettle usually takes 1500 W; `mains` gives 800 W"
    assert "at least 1500 W" in finding.remedy
    assert finding.level == "note"


@pytest.mark.parametrize(("watts", "told"), [("2400 W", True), ("2500 W", False)])
def test_two_at_once_add_up(watts: str, told: bool) -> None:
    """1500 W of the kettle and 1000 W of the coffee maker, common practice."""
    findings = found(running("[coffee-maker, kettle, laptop]", watts), HEAVY)
    assert bool(findings) is told
    if told:
        assert "a kettle and a coffee maker at once usually take 2500 W" in findings[0].message
        assert findings[0].remedy.startswith("run one at a time")


def test_one_alone_that_is_too_much_is_told_once() -> None:
    [finding] = found(running("[induction-hob, kettle]", "1000 W"), HEAVY)
    assert finding.message == "an induction hob usually takes 1500 W; `mains` gives 1000 W"


def test_what_is_measured_or_runs_no_heat_is_not_reckoned() -> None:
    assert not found(running("[laptop, television, lights]", "60 W"), HEAVY)
    measured = edited(("appliances: [laptop, kettle]", "energy: 400 Wh"), plan=faulty(HEAVY))
    assert not found(measured, HEAVY)
