"""A plan with values changed: only what is named changes, and what cannot be read is refused."""

from __future__ import annotations

import pytest

from plans import BASE, edited
from wattproof.plan import Plan, load_plan
from wattproof.plan.amend import Change, amended
from wattproof.quantities import Mistake

PLAN = edited(
    (
        "wires:\n",
        "loads:\n  fridge: {current: 4 A}\n"
        "distribution:\n  panel: {ways: {cold: {fuse: 10 A}, light: {fuse: 5 A}}}\n"
        "wires:\n"
        "  panel-feed: {from: house, to: panel, cable: batt-8, length: 1 m}\n"
        "  cold-lead: {from: panel.cold, to: fridge, cable: pv-10, length: 2 m}\n",
    )
)


def plan(text: str = PLAN) -> Plan:
    return load_plan("plan.yaml", text=text)


def test_a_value_of_a_component_is_read_anew_and_the_plan_stays() -> None:
    before = plan()
    after = amended(before, [Change("charge-fuse", "rating", "30 A")])
    assert after.fuses["charge-fuse"].rating.value == 30.0
    assert after.fuses["charge-fuse"].rating.place == before.fuses["charge-fuse"].at
    assert before.fuses["charge-fuse"].rating.value == 40.0
    assert after.fuses["charge-fuse"].voltage == before.fuses["charge-fuse"].voltage


def test_a_key_that_was_not_written_is_added() -> None:
    after = amended(plan(), [Change("tracker", "limited_to", "15 A")])
    assert after.controllers["tracker"].limited_to.value == 15.0


def test_one_wire_gets_a_cable_of_its_own_and_the_others_keep_theirs() -> None:
    after = amended(plan(), [Change("home-run", "cable.size", "8 AWG")])
    cables = after.datasheets.cables
    assert cables[after.wires["home-run"].cable].size.text == "8 AWG"
    assert cables[after.wires["home-run"].cable].kind == "pv"
    assert cables[after.wires["cold-lead"].cable].size.text == "10 AWG"


def test_several_changes_of_one_cable_hold_together() -> None:
    changes = [
        Change("home-run", "cable.size", "8 AWG"),
        Change("home-run", "cable.insulation_temperature", "105 °C"),
    ]
    after = amended(plan(), changes)
    sheet = after.datasheets.cables[after.wires["home-run"].cable]
    assert (sheet.size.text, sheet.insulation_temperature.value) == ("8 AWG", 105.0)


def test_a_device_in_a_wire_and_a_way_of_a_panel() -> None:
    changes = [
        Change("charge-run", "inline.charge-fuse.distance", "5 cm"),
        Change("panel", "ways.cold.fuse", "7.5 A"),
    ]
    after = amended(plan(), changes)
    assert after.wires["charge-run"].inline[0].distance.value == pytest.approx(0.05)
    assert after.distribution["panel"].ways["cold"].fuse.value == 7.5
    assert after.distribution["panel"].ways["light"].fuse.value == 5.0


@pytest.mark.parametrize(
    "change",
    [
        Change("nothing", "rating", "30 A"),
        Change("charge-fuse", "colour", "red"),
        Change("charge-run", "inline.other.distance", "5 cm"),
        Change("panel", "ways.other.fuse", "5 A"),
        Change("charge-run", "inline", "other"),
    ],
)
def test_what_names_nothing_is_refused(change: Change) -> None:
    with pytest.raises(ValueError, match=r"named|key|not in|no way"):
        amended(plan(), [change])


def test_what_is_no_such_value_is_refused() -> None:
    with pytest.raises(Mistake):
        amended(plan(), [Change("charge-fuse", "rating", "30 V")])


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (Change("main", "rating", "30 A"), "`rating: 30 A` for `main`"),
        (Change("run", "cable.size", "8 AWG"), "`size: 8 AWG` for the cable of `run`"),
        (Change("run", "inline.main.distance", "5 cm"), "`distance: 5 cm` for `main` in `run`"),
        (Change("panel", "ways.cold.fuse", "5 A"), "`fuse: 5 A` for `cold` in `panel`"),
    ],
)
def test_a_change_in_words(change: Change, words: str) -> None:
    assert str(change) == words


def test_the_base_needs_no_change() -> None:
    before = plan(BASE)
    assert amended(before, []) is before
