"""Modules with a regulator built on, plugged into the solar input of a controller."""

from __future__ import annotations

from plans import edited
from rule_runs import RULES
from rule_runs import found_beside_all as found

TWICE = "controller-feeds-controller"


def test_a_regulator_before_a_controller() -> None:
    sound = RULES.rules[TWICE].sound
    (finding,) = found(edited(("regulated: false", "regulated: true"), plan=sound), TWICE)
    assert finding.level == "error"
    assert finding.subjects == ("tracker", "roof-string")
    assert "bypass the regulator" in finding.remedy
    assert not found(edited((",\n                regulated: false", ""), plan=sound), TWICE)
