"""What the judge answers at places where one thing decides, each worked out on paper."""

from __future__ import annotations

import pytest

from plans import edited
from study.test_allowed import BASE
from wattproof.study.protection.answers import Allowed
from wattproof.study.protection.larger_device import exposed
from wattproof.testing import study_of
from wattproof.working import steps

MADE = "voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true"
LAMP = "lamp-fuse: {rating: 20 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}"


def from_banks(plan: str, wire: str) -> list[Allowed]:
    """The answers along a wire, from where it is fed."""
    answers = study_of(plan).protection.allowed
    return [each for each in answers if each.kind == "bank" and each.wire.name == wire]


def test_where_every_way_was_tried_nothing_is_assumed_of_it() -> None:
    for wire in ("house-run", "lamp-run"):
        for answer in from_banks(BASE, wire):
            assert not answer.lasting.assumptions
            assert not any("first devices" in step.formula for step in steps(answer.lasting))


@pytest.mark.parametrize(
    ("rating", "late"),
    [(40, None), (40.78, None), (40.79, 45 * 1.45 / 1.6), (45, 45 * 1.45 / 1.6), (46, None)],
)
def test_a_fuse_that_fits_and_surely_opens_only_later(rating: float, late: float | None) -> None:
    """4 mm² carries 45 A in free air; a gG fuse surely opens at 1.6 times its rating, and may at
    1.45 times what the wire carries: 40.78 A. 46 A is too large, which is said in its place.

    IEC 60364-5-52 table B.52.12; IEC 60364-4-43 433.1; IEC 60269-1 table 2.
    """
    made = LAMP.replace("20 A", f"{rating} A").replace("class-t", "cartridge")
    plan = edited(("code: nec-2023", "code: iec"), (LAMP, made), plan=BASE)
    [_, behind] = from_banks(plan, "lamp-run")
    assert behind.trips_late is (late is not None)
    if behind.in_time is not None:
        assert behind.in_time.number == pytest.approx(late)
        assert behind.why == (
            f"`lamp-fuse` opens; {rating:g} A protects up to 45 A, and surely opens in time up to "
            "40.8 A only"
        )


def test_of_two_devices_together_none_is_called_late() -> None:
    """Two fuses of 22 A side by side let 44 A last, and each opens by its own current."""
    twice = "".join(f"  {name}: {{rating: 22 A, {MADE}}}\n" for name in ("left", "right"))
    plan = edited(
        ("code: nec-2023", "code: iec"),
        ("fuses:\n", "fuses:\n" + twice.replace("class-t", "cartridge")),
        ("busbars:\n", "busbars:\n  lamps: {rating: 250 A}\n"),
        ("from: bar, to: lamp", "from: lamps, to: lamp"),
        ("wires:\n", "wires:\n" + "".join(
            f"  {name}-run: {{from: bar, to: lamps, cable: thick, length: 1 m, place: cabin,\n"
            f"    inline: [{{{name}: {{from_end: from, distance: 1 cm}}}}]}}\n"
            for name in ("left", "right")
        )),
        (LAMP, LAMP.replace("20 A", "60 A")),
        plan=BASE,
    )  # fmt: skip
    first = from_banks(plan, "lamp-run")[0]
    assert (first.verdict, first.lasting.number) == ("cleared", 44.0)
    assert not first.trips_late
    assert first.why == "`left` and `right` open; 44 A protects up to 45 A"


def test_in_air_too_hot_for_its_insulation_what_opens_is_no_comfort() -> None:
    """105 °C of insulation in 110 °C of air; what is near its fuse may be so all the same."""
    plan = edited(("cabin: {ambient: 30 °C}", "cabin: {ambient: 110 °C}"), plan=BASE)
    near, behind = from_banks(plan, "house-run")
    assert near.verdict == "short enough"
    assert behind.verdict == "not known"
    assert behind.why == "the air is too hot for its insulation, whatever opens"


@pytest.mark.parametrize(
    ("main", "branch", "verdict"),
    [
        ("20 kA", "20 kA", "cleared"),
        ("20 kA", "1 kA", "cleared"),  # the main fuse breaks what the small one cannot
        ("1 kA", "1 kA", "not allowed"),
    ],
)
def test_a_fuse_that_cannot_break_a_short_behind_one_that_can(
    main: str, branch: str, verdict: str
) -> None:
    """Ten times its capacity or so is what a lead battery drives: beyond 1 kA, below 20."""
    plan = edited(
        ("style: class-t, interrupt: 20 kA, dc: true}\n  lamp",
         f"style: class-t, interrupt: {main}, dc: true}}\n  lamp"),
        (LAMP, LAMP.replace("20 kA", branch)),
        ("capacity: 100 Ah", "capacity: 100 Ah, short_circuit_current: 3 kA"),
        ("length: 3 m, place: cabin", "length: 30 cm, place: cabin"),
        plan=BASE,
    )  # fmt: skip
    [_, behind] = from_banks(plan, "lamp-run")
    assert behind.verdict == verdict
    assert (behind.reason == "cannot break it") is (verdict == "not allowed")


def test_how_much_of_a_wire_is_before_its_device() -> None:
    """50 cm with the fuse 10 cm from the bank, told from either end."""
    near, behind = from_banks(BASE, "house-run")
    assert [str(each.bare_length) for each in (near, behind)] == ["0.1 m", "0.4 m"]
    formulas = [steps(each.bare_length)[-1].formula for each in (near, behind)]
    assert formulas == ["d(house-fuse)", "L(house-run) − d(house-fuse)"]
    from_bar = edited(("{from_end: from, distance: 10 cm}}]}\n  lamp",
                       "{from_end: to, distance: 40 cm}}]}\n  lamp"), plan=BASE)  # fmt: skip
    near, behind = from_banks(from_bar, "house-run")
    assert [str(each.bare_length) for each in (near, behind)] == ["0.1 m", "0.4 m"]


@pytest.mark.parametrize(
    ("fuse", "rating", "left"),
    [
        ("house-fuse", 150.0, {}),
        ("house-fuse", 200.0, {"house-run": 200.0}),  # lamp-run is behind 20 A of its own
        ("lamp-fuse", 20.0, {}),
        ("lamp-fuse", 30.0, {"lamp-run": 30.0}),
    ],
)
def test_what_a_larger_fuse_would_leave_unprotected(
    fuse: str, rating: float, left: dict[str, float]
) -> None:
    """2/0 AWG has 175 A before it at most, 4 mm² 20 A."""
    study = study_of(BASE)
    found = exposed(study.protection.guards, study.wiring.devices[fuse], rating)
    assert {each.wire.name: each.through.number for each in found} == left
