"""Whether a controller can be parted from its battery while the array still feeds it."""

from __future__ import annotations

from plans import edited
from rule_runs import RULES, found

MISSING = "array-switch-missing"
STRANDS = "battery-switch-strands-controller"
BOTH = RULES.rules[STRANDS].sound
STRANDED = RULES.rules[STRANDS].faulty.of(BOTH)


def test_a_switch_towards_the_battery_and_none_before_the_controller() -> None:
    [finding] = found(STRANDED, STRANDS)
    assert (finding.level, finding.subjects) == ("warning", ("bank-off", "tracker"))
    assert "`bank-off` can take the battery away from `tracker`" in finding.message
    assert not found(STRANDED, MISSING)  # one fault, one story
    assert not found(BOTH, STRANDS)
    [cabin] = found(edited(("setting: vehicle", "setting: cabin"), plan=STRANDED), STRANDS)
    assert cabin.level == "error"


def test_a_small_portable_array_strands_nothing() -> None:
    plan = edited(("series: 3, mounting: roof-gap", "series: 2, mounting: ground, portable: true"),
                  plan=STRANDED)  # fmt: skip
    assert not found(plan, STRANDS)
