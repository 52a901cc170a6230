"""The power of an array at a hot noon against what its controller can pass on."""

from __future__ import annotations

import re

import pytest

from rule_runs import RULES, sound
from rule_runs import found_beside_all as found
from wattproof.testing import study_of

CLIPS = "controller-clips"


@pytest.mark.parametrize(("amps", "fires"), [("9.39 A", False), ("9.38 A", True)])
def test_clipping_at_the_limit(amps: str, fires: bool) -> None:
    """199.9 W in full sun at 14.2 V are 14.08 A; 1.5 times 9.39 A is 14.085 A."""
    (array,) = study_of(RULES.rules[CLIPS].sound).array.arrays
    assert array.power("standard").number / 14.2 == pytest.approx(14.08, abs=0.005)
    plan = sound(CLIPS, ("max_output_current: 20 A", f"max_output_current: {amps}"))
    assert [f.level for f in found(plan, CLIPS)] == (["note"] if fires else [])


def test_clipping_by_a_limit_that_is_set_and_a_controller_that_is_large_enough() -> None:
    plan = sound(CLIPS, ("max_output_current: 20 A", "max_output_current: 20 A, limited_to: 5 A"))
    (finding,) = found(plan, CLIPS)
    assert "on purpose?" in finding.message
    amps = re.search(r"at least (\d+) A", finding.remedy)
    assert amps
    assert not found(plan.replace("limited_to: 5 A", f"limited_to: {amps[1]} A"), CLIPS)


def test_a_pulse_width_controller_does_not_clip() -> None:
    plan = sound(CLIPS, ("max_output_current: 20 A", "max_output_current: 3 A"))
    assert not found(plan.replace("kind: mppt", "kind: pwm"), CLIPS)


ENERGY = """\
energy:
  sun_hours: {winter: 1.5 h, summer: 6 h}
"""


def test_what_is_lost_in_a_day_is_told_where_sun_hours_are() -> None:
    """By half a sine: of 2.1 times what is passed on, a good third of a clear day goes."""
    plan = sound(CLIPS, ("max_output_current: 20 A", "max_output_current: 6 A"))
    (without,) = found(plan, CLIPS)
    assert " a day " not in without.message
    (finding,) = found(plan + ENERGY, CLIPS)
    told = re.search(r"left unused, (\d+) Wh a day in summer; is that", finding.message)
    assert told, finding.message
    assert 200.0 < float(told[1]) < 500.0  # of 200 W for 6 h, less dirt, heat and wires


def test_no_controller_is_proposed_that_nobody_sells() -> None:
    plan = sound(CLIPS, ("max_output_current: 20 A", "max_output_current: 6 A"))
    many = plan.replace("max_charge_current: 50 A", "max_charge_current: 500 A")
    many = re.sub(
        r"(strings:\n  [\w-]+: \{module: [\w-]+, )series: \d+", r"\1arrangement: 2s14p", many
    )
    (finding,) = found(many, CLIPS)
    assert "a second controller" in finding.remedy
    assert not finding.ways
