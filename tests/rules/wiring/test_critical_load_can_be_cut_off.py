"""Loads that endanger when they stop, behind switches that stop them."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound


def test_a_critical_load_behind_a_switch_that_opens_by_itself() -> None:
    plan = sound("low-voltage-switch-odd")
    rule = "critical-load-can-be-cut-off"
    assert not found(plan, rule)
    critical = edited(("lamp: {current: 2 A}", "lamp: {current: 2 A, critical: true}"), plan=plan)
    [finding] = found(critical, rule)
    assert finding.message == "`lamp` must not stop, and stops when `low-off` opens by itself"


RULE = "critical-load-can-be-cut-off"


@pytest.mark.parametrize(("setting", "level"), [("boat", "warning"), ("vehicle", "note")])
def test_a_main_switch_that_others_hang_on(setting: str, level: str) -> None:
    plan = edited(
        ("setting: boat", f"setting: {setting}"), ("code: abyc-e11", "code: iec"), plan=faulty(RULE)
    )
    [finding] = found(plan, RULE)
    assert finding.level == level
    assert "stops when `main-off` is turned off" in finding.message


@pytest.mark.parametrize(
    ("called", "level"),
    [("running", "note"), ("steaming-light", "note"), ("tricolour", "note"), ("fire-alarm", None)],
)
def test_what_works_under_way_may_hang_on_the_main_switch(called: str, level: str | None) -> None:
    """Lights are on while somebody is aboard; a pump and an alarm while nobody is."""
    [finding] = found(faulty(RULE).replace("bilge-pump", called), RULE)
    assert finding.level == (level or "warning")


def test_load_terminals_switch_off_by_themselves() -> None:
    plan = edited(
        ("from: house, to: bilge-pump,", "from: tracker.load, to: bilge-pump,"), plan=sound(RULE)
    )
    [finding] = found(plan, RULE)
    assert finding.level == "warning"
    assert finding.message == (
        "`bilge-pump` must not stop, and the load terminals of `tracker` switch it off when the "
        "battery is low"
    )


STEP = """\
converters:
  step: {input_nominal: 12 V, output_nominal: 24 V, max_output_current: 10 A}
wires:
  step-run: {from: bar, to: step.input, cable: batt-8, length: 1 m, place: cabin}
"""


def test_behind_a_converter_it_hangs_on_what_feeds_that() -> None:
    plan = edited(
        ("wires:\n", STEP), ("from: house, to: bilge-pump,", "from: step.output, to: bilge-pump,"),
        plan=sound(RULE),
    )  # fmt: skip
    [finding] = found(plan, RULE)
    assert finding.message == "`bilge-pump` must not stop, and stops when `main-off` is turned off"
    assert finding.subjects == ("bilge-pump", "main-off")
    assert not found(plan.replace("from: bar, to: step", "from: house, to: step"), RULE)


@pytest.mark.parametrize(
    ("lamp", "level"), [("from: house, to: lamp", "note"), ("from: bar, to: lamp", "warning")]
)
def test_a_switch_of_its_own_is_one_that_nothing_else_hangs_on(lamp: str, level: str) -> None:
    [finding] = found(edited(("from: bar, to: lamp", lamp), plan=faulty(RULE)), RULE)
    assert finding.level == level


def test_a_switch_for_the_starter_is_none_of_its_own() -> None:
    """Whoever leaves the boat turns it off, and means the engine."""
    plan = edited(
        ("from: bar, to: lamp", "from: house, to: lamp"),
        ("loads:\n", "starters:\n  crank: {current: 150 A}\nloads:\n"),
        ("wires:\n", "wires:\n  crank-run: {from: bar, to: crank, cable: batt-8, length: 1 m}\n"),
        plan=faulty(RULE),
    )
    [finding] = found(plan, RULE)
    assert finding.level == "warning"
