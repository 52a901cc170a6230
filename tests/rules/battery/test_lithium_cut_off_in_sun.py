"""What reaches the loads when a lithium battery disconnects under a pulse-width controller."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found

CUT_OFF = "lithium-cut-off-in-sun"


def test_the_bare_array_on_the_loads() -> None:
    """24.3 V × (1 + 0.0029 × 43) = 27.33 V."""
    [finding] = found(faulty(CUT_OFF), CUT_OFF)
    assert finding.level == "warning"
    assert "lets up to 27.3 V from the array through to the loads" in finding.message
    assert "most bear about 16 V" in finding.message
    assert finding.margin == pytest.approx(1 - 27.33 / 16, abs=1e-3)
    assert finding.subjects == ("regulator", "house", "lights")


@pytest.mark.parametrize(
    "edit",
    [
        ("holds_without_battery: false", "holds_without_battery: true"),
        ("kind: pwm, max_input_voltage: 50 V", "kind: mppt, max_input_voltage: 100 V"),
        ("chemistry: lithium-iron-phosphate", "chemistry: agm"),
        ("nominal: 12.8 V", "nominal: 25.6 V"),  # 24 V loads stand 32 V
    ],
)
def test_a_tracker_lead_and_a_voltage_that_loads_stand_are_silent(edit: tuple[str, str]) -> None:
    plan = faulty(CUT_OFF)
    if "25.6" in edit[1]:
        plan = edited(("nominal: 12 V", "nominal: 24 V"), plan=plan)
    if "mppt" in edit[1]:
        plan = edited((", holds_without_battery: false", ""), plan=plan)
    assert not found(edited(edit, plan=plan), CUT_OFF)


def test_a_tracker_that_is_told_not_to_hold() -> None:
    plan = edited(("kind: pwm", "kind: mppt"), plan=faulty(CUT_OFF))
    [finding] = found(plan, CUT_OFF)
    assert finding.remedy.startswith("use a controller whose maker states that it holds")


def test_without_loads_nothing_is_harmed() -> None:
    plan = faulty(CUT_OFF)
    start = plan.index("  lights-run:")
    plan = plan[:start].replace("loads:\n  lights: {current: 3 A, nominal: 12 V}\n", "")
    fuse = next(line for line in plan.splitlines() if "load-fuse:" in line)
    assert not found(plan.replace(fuse + "\n", ""), CUT_OFF)
