"""A battery that feeds its array in the dark."""

from __future__ import annotations

from plans import edited
from rule_runs import asked, faulty, found, sound
from wattproof.testing import check_remedy

DRAINS = "controller-drains-at-night"


def test_a_controller_that_does_not_block() -> None:
    [finding] = found(faulty(DRAINS), DRAINS, tried=True)
    assert (finding.level, finding.hazard) == ("note", "lost-energy")
    assert finding.subjects == ("tracker", "roof-string")
    check_remedy(finding)
    assert not found(sound(DRAINS), DRAINS)


def test_a_diode_in_the_string_blocks() -> None:
    diode = ("mounting: roof-gap", "mounting: roof-gap, blocking_diode: 0.5 V")
    assert not found(edited(diode, plan=faulty(DRAINS)), DRAINS)


def test_of_a_tracker_that_says_nothing_nothing_is_said() -> None:
    assert not found(sound(DRAINS, ("blocks_reverse: true", "boost: false")), DRAINS)


def test_of_a_pulse_width_controller_only_its_manual_tells() -> None:
    plan = sound(DRAINS, ("kind: mppt", "kind: pwm"), ("blocks_reverse: true", "common: negative"))
    assert not found(plan, DRAINS)
    assert asked(plan, DRAINS)
