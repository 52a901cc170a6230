"""What a blocking diode costs, where the controller lets nothing back anyway."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found_beside_all as found
from rule_runs import sound

DIODE = "blocking-diode-misused"


@pytest.mark.parametrize(
    ("drop", "fires"),
    [
        ("1.224 V", False),  # at it: 2 % of 3 × 20.4 V
        ("1.230 V", True),
    ],
)
def test_blocking_diode_at_the_limit(drop: str, fires: bool) -> None:
    plan = sound(DIODE, ("blocking_diode: 0.9 V", f"blocking_diode: {drop}"))
    assert [f.level for f in found(plan, DIODE)] == (["warning"] if fires else [])


def test_blocking_diode_heat_and_remedy() -> None:
    plan = sound(DIODE, ("series: 3", "series: 2"))
    (finding,) = found(plan, DIODE)
    assert finding.values[1].number == pytest.approx(0.9 * 1.25 * 5.2)
    assert finding.remedy.startswith("leave it out")
    assert not found(edited((", blocking_diode: 0.9 V", ""), plan=plan), DIODE)


@pytest.mark.parametrize("blocks", ["kind: pwm", "kind: pwm, nominal: 12 V"])
def test_a_blocking_diode_before_a_controller_that_may_leak_is_right(blocks: str) -> None:
    plan = sound(DIODE, ("series: 3", "series: 2"), ("kind: mppt", blocks))
    assert found(plan, DIODE)  # the plan says that it blocks
    assert not found(edited((", blocks_reverse: true", ""), plan=plan), DIODE)
    leaking = edited(("blocks_reverse: true", "blocks_reverse: false"), plan=plan)
    assert not found(leaking, DIODE)
