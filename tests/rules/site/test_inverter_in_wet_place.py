"""Inverters where rain or spray reaches them."""

from __future__ import annotations

from plans import edited
from rule_runs import build, faulty, found, sound

WET = "inverter-in-wet-place"


def test_an_inverter_where_spray_reaches() -> None:
    [finding] = found(faulty(WET), WET)
    assert (finding.level, finding.subjects) == ("warning", ("mains", "cabin"))


def test_nothing_is_said_where_its_place_is_not_told() -> None:
    assert not found(edited(("place: cabin, power", "power"), plan=faulty(WET)), WET)
    assert not found(sound(WET), WET)


def test_one_that_is_a_charger_too() -> None:
    plan = edited(("cabin: {", "cabin: {wet: true, "), plan=build("vehicle-inverter-charger"))
    assert [f.subjects for f in found(plan, WET)] == [("combi", "cabin")]
