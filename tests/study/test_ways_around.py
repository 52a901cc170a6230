"""A way around a main fuse: which of two ways is the honest one."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from plans import BASE, edited
from rule_runs import found
from rules.protection.plans import packs
from study.test_several_members import BOAT
from wattproof.circuit import Terminal
from wattproof.physics.conductors import gauge_area_mm2, withstand_time
from wattproof.study import Study
from wattproof.study.protection import at_once
from wattproof.study.protection.ways import words_of
from wattproof.testing import study_of

JUMPER = "  jumper: {from: house, to: bar, cable: thick, length: 50 cm, place: cabin}\n"


def with_studs(count: int) -> str:
    """The boat with a wire around its main fuse, and some studs, 3 cm each, before the fuse."""
    places = ["house", *(f"stud{n}" for n in range(count))]
    before = "".join(
        f"  before{n}: {{from: {places[n]}, to: stud{n}, cable: thick, length: 3 cm}}\n"
        for n in range(count)
    )
    return edited(
        (
            "busbars:\n",
            "busbars:\n" + "".join(f"  {name}: {{rating: 250 A}}\n" for name in places[1:]),
        ),
        ("wires:\n", f"wires:\n{before}{JUMPER}"),
        ("house-run: {from: house", f"house-run: {{from: {places[-1]}"),
        plan=BOAT,
    )


def around(study: Study) -> set[str]:
    """The first wires of ways that come to a device from behind."""
    return {w.exit.conductors[0].name for w in study.protection.ways.all if w.exit.around}


@pytest.mark.parametrize("studs", [0, 1, 2])
def test_the_longer_way_is_the_one_around(studs: int) -> None:
    """10 cm and 3 cm a stud lead to the fuse, 90 cm over the jumper."""
    plan = with_studs(studs)
    assert around(study_of(plan)) == {"jumper"}
    [told] = found(plan, "battery-fuse-missing")
    assert "`jumper` leads from `house` around `house-fuse`" in told.message


def test_a_device_between_two_bars_that_are_fed_alike_is_bypassed_from_neither() -> None:
    plan = edited(
        ("house-fuse: {rating", "tie-fuse: {rating: 200 A, voltage: 125 V, style: class-t, "
         "interrupt: 20 kA, dc: true}\n  house-fuse: {rating"),
        ("wires:\n", "wires:\n  other-run: {from: house, to: stud, cable: thick, length: 50 cm}\n"),
        (",\n              inline: [{house-fuse: {from_end: from, distance: 10 cm}}]", ""),
        ("length: 5 cm, place: cabin}", "length: 10 cm, place: cabin,\n"
         "         inline: [{tie-fuse: {from_end: from, distance: 5 cm}}]}"),
        plan=BOAT,
    )  # fmt: skip
    assert around(study_of(plan)) == set()


def test_each_stretch_is_judged_by_the_way_through_it_and_not_by_the_worst_way_there_is() -> None:
    """10 cm to the main fuse are near enough; the 50 cm of the jumper lead around it."""
    answers = study_of(with_studs(0)).protection.allowed
    from_post = {
        (a.wire.name, a.verdict)
        for a in answers
        if a.kind == "bank" and a.part.start == Terminal("house", "", "positive")
    }
    assert {("house-run", "short enough"), ("jumper", "not allowed")} <= from_post
    assert ("house-run", "not allowed") not in from_post


def test_what_opens_is_a_fitting_device_in_the_way_of_all_that_comes_in() -> None:
    """Not the bare centimetres before the main fuse; and the stub before its two lamp fuses."""
    answers = study_of(BOAT).protection.allowed
    opens = {
        (a.wire.name, a.part.start.component): a.opens
        for a in answers
        if a.kind == "bank" and a.part.pole == "positive"
    }
    assert opens == {
        ("house-run", "house"): False,
        ("house-run", "house-run"): True,
        ("stub", "bar"): True,
        ("lamp-run", "stud"): True,
        ("lamp-run", "lamp-run"): True,
        ("pump-run", "stud"): True,
        ("pump-run", "pump-run"): True,
    }


def test_what_limits_a_stretch_is_its_own_device_or_what_stands_before_it() -> None:
    limiting = {
        (a.wire.name, a.part.start.component): [device.name for device in a.limiting]
        for a in study_of(BOAT).protection.allowed
        if a.part.pole == "positive"
    }
    assert limiting["house-run", "house-run"] == ["house-fuse"]
    assert limiting["stub", "bar"] == ["lamp-fuse", "pump-fuse"]
    assert limiting["lamp-run", "stud"] == limiting["lamp-run", "lamp-run"] == ["lamp-fuse"]


@pytest.mark.parametrize("what", ["dc: false", "voltage: 10 V"])
def test_a_fuse_that_cannot_break_direct_current_of_a_bank_protects_nothing(what: str) -> None:
    """One that is made for alternating current, or for less than the bank's voltage."""
    before = "dc: true" if what.startswith("dc") else "voltage: 58 V"
    verdicts = [
        (a.verdict, a.reason)
        for a in study_of(edited((before, what))).protection.allowed
        if a.wire.name == "charge-run" and a.kind == "bank"
    ]
    assert verdicts == [("short enough", None), ("not allowed", "cannot break it")]


def judged(verdict: str, reason: str | None = None, **others: Any) -> str:
    """What is said of a way that is judged so, to a device `main` or to none."""
    device = SimpleNamespace(name="main") if others.pop("device", True) else None
    end = SimpleNamespace(
        device=device, around=others.pop("around", False), bank=SimpleNamespace(name="house")
    )
    way: Any = SimpleNamespace(
        exit=end,
        verdict=verdict,
        reason=reason,
        is_cranking=others.pop("is_cranking", False),
        in_other_pole=(SimpleNamespace(name="back"),),
    )
    return words_of(way)


def test_each_way_is_told_as_it_is_judged() -> None:
    assert judged("cleared") == "the fuses of the packs of house open"
    assert judged("short enough") == "nothing before `main`, which is near enough"
    assert judged("not known") == "nothing before `main`, and how far that is is not stated"
    assert judged("not allowed", "too far") == "nothing before `main`, which is too far away"
    other = "nothing before `main`, which is the device of another battery"
    assert judged("not allowed", "belongs to another source") == other
    assert judged("not allowed", "no device", around=True) == "it leads around `main`"
    bare = "nothing opens between the battery and this stretch"
    assert judged("not allowed", "no device", device=False) == bare
    assert judged("not known", device=False) == bare
    posts = "batteries side by side, joined post to post"
    assert judged("short enough", device=False) == posts
    assert judged("not allowed", "only in the other pole", device=False) == (
        "only `back` in the negative opens"
    )
    cranking = "a starting and charging cable of a lead battery may be without a device"
    assert judged("short enough", is_cranking=True) == cranking


def test_a_stretch_names_its_own_fuse_though_the_one_before_it_is_smaller() -> None:
    """300 A in the lamp's wire behind the main fuse of 200 A: mend this one."""
    plan = edited(("lamp-fuse: {rating: 20 A", "lamp-fuse: {rating: 300 A"), plan=BOAT)
    [answer] = [
        a
        for a in study_of(plan).protection.allowed
        if a.kind == "bank" and a.part.start == Terminal("lamp-run", "#0b", "positive")
    ]
    assert answer.lasting.number == 200.0
    assert [device.name for device in answer.devices] == ["lamp-fuse"]


class TestPacksThatCanOnlyBeShortedIntoALead:
    """Three packs behind 70 A each on 4 AWG: two drive 140 A into the lead of the third."""

    PLAN = packs(3, 70, "b-4", "")

    def opens_at_once(self) -> bool:
        [answer] = [
            a
            for a in study_of(self.PLAN).protection.allowed
            if a.wire.name == "pack-run-1"
            and a.sources == ("pack-2", "pack-3")
            and a.part.start != Terminal("pack-1", "", "positive")
        ]
        return "at once" in answer.why

    def short(self) -> float:
        study = study_of(self.PLAN)
        part = next(
            c for c in study.wiring.wires["pack-run-1"].conductors if c.start.component != "pack-1"
        )
        found = study.wiring.network.short_along(part)
        assert found is not None
        return sum(amps.number for bank, amps in found.banks if bank.name != "pack-1")

    def test_they_open_at_once_from_ten_times_what_they_let_last(
        self, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        amps = self.short()
        assert amps > 10.0 * 140.0
        monkeypatch.setattr(at_once, "AT_ONCE", amps / 140.0)
        assert amps >= at_once.AT_ONCE * 140.0
        assert self.opens_at_once()
        monkeypatch.setattr(at_once, "AT_ONCE", amps / 140.0 * 1.001)
        assert not self.opens_at_once()

    def test_the_lead_has_to_bear_the_short_for_a_tenth_of_a_second(
        self, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """(115 × 21.15 mm² / I)² seconds of copper in the insulation that stands least."""
        bears = withstand_time(gauge_area_mm2("4"), self.short(), 115.0)
        assert bears > 0.1
        for lasts, stands in ((bears, True), (bears * 1.001, False)):
            monkeypatch.setattr(at_once, "SHORT_LASTS", lasts)
            assert self.opens_at_once() is stands


CHARGE = BASE[BASE.index("  charge-run:") :]


@pytest.mark.parametrize(("rating", "fits"), [("30 A", False), ("40 A", True), ("50 A", True)])
def test_a_switch_and_a_bar_of_the_negative_carry_what_the_fuse_lets_come_back(
    rating: str, fits: bool
) -> None:
    """40 A by the fuse in the positive, though nothing else feeds them."""
    poles = (
        "  plus: {from: tracker.battery.positive, to: house.positive, cable: batt-8, length: 1 m,\n"
        "         inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}\n"
        "  minus-1: {from: tracker.battery.negative, to: minus, cable: batt-8, length: 1 m}\n"
        "  minus-2: {from: minus.negative, to: house.negative, cable: batt-8, length: 1 m,\n"
        "            inline: [off]}\n"
    )
    parts = (
        f"busbars:\n  minus: {{rating: {rating}}}\n"
        f"switches:\n  off: {{rating: {rating}, voltage: 48 V, dc: true, poles: 1}}\n"
    )
    plan = edited((CHARGE, poles), ("fuses:\n", f"{parts}fuses:\n"))
    held = study_of(plan).protection.held
    assert {(h.name, h.what, h.through.number, h.reason is None) for h in held} == {
        ("off", "switch", 40.0, fits),
        ("minus", "bar", 40.0, fits),
    }
