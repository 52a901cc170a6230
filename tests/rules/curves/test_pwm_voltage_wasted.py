"""The voltage of an array above its battery on a controller that cannot use it."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, sound
from rule_runs import found_beside_all as found
from wattproof.testing import study_of

PWM = "pwm-voltage-wasted"


@pytest.mark.parametrize(("vmp", "fires"), [(23.1, False), (23.6, True)])
def test_pwm_at_the_limit(vmp: float, fires: bool) -> None:
    """Hot Vmp is 0.81 of the label's; 14.2 V / 0.75 is 18.93 V, which some 23.3 V give."""
    (array,) = study_of(RULES.rules[PWM].sound).array.arrays
    assert array.vmp("hottest").number / 20.4 == pytest.approx(0.8117, abs=5e-4)
    label = f"voc: 31.0 V, vmp: {vmp} V, isc: 5.2 A, imp: 4.9 A, pmax: {vmp * 4.9:.1f} W"
    plan = sound(PWM, ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W", label))
    assert [f.level for f in found(plan, PWM)] == (["warning"] if fires else [])


def test_pwm_remedies() -> None:
    plan = sound(PWM, ("series: 1", "series: 2"))
    (finding,) = found(plan, PWM)
    assert finding.values[0].number == pytest.approx(1 - 14.2 / (2 * 20.4 * 0.8117), abs=1e-3)
    assert finding.remedy.startswith("put 1 in series")
    assert not found(edited(("kind: pwm", "kind: mppt"), plan=plan), PWM)
    wide = "voc: 38.0 V, vmp: 32.0 V, isc: 5.2 A, imp: 4.9 A, pmax: 157 W"
    alone = sound(PWM, ("voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A, pmax: 100 W", wide))
    (finding,) = found(alone, PWM)
    assert finding.remedy.startswith("use a tracker")
