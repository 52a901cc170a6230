"""Array voltage that kills whoever touches it, by how it can be touched."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, asked, faulty, found, sound

SHOCK = "array-voltage-shock"


def test_a_warning_of_shock_above_120_volts() -> None:
    """5 × 24.3 V × (1 + 0.0029 × 43) = 136.65 V."""
    [finding] = found(faulty(SHOCK), SHOCK)
    assert (finding.level, finding.hazard, finding.subjects) == (
        "warning",
        "shock",
        ("roof-string",),
    )
    assert "reaches 137 V on the coldest morning" in finding.message
    assert finding.values[0].number == pytest.approx(5 * 24.3 * (1 + 0.0029 * 43))
    caution = RULES.rules[SHOCK].caution
    assert caution is not None
    assert caution.signal == "WARNING"
    assert not found(sound(SHOCK), SHOCK)


def test_below_it_nothing() -> None:
    assert not found(edited(("series: 5", "series: 4"), plan=faulty(SHOCK)), SHOCK)


def test_plugs_that_nobody_tells_are_asked_for() -> None:
    told = "connector: {style: flat-two-pin, "
    for untold in ("connector: {", "connector: {style: as on the roof, "):
        plan = edited((told, untold), plan=faulty(SHOCK))
        assert not found(plan, SHOCK)
        assert "plugs of modules" in asked(plan, SHOCK)
    assert not asked(sound(SHOCK), SHOCK)


def test_what_is_set_up_by_hand_is_found_with_guarded_contacts_too() -> None:
    plan = sound(SHOCK, ("mounting: roof-gap", "mounting: ground, portable: true"))
    [finding] = found(plan, SHOCK)
    assert "`roof-string` is set up by hand" in finding.message
    assert finding.remedy.startswith("put at most 4 in series")
