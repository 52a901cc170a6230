"""What the judge of protection says of odd stretches, by numbers that a pencil finds."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from plans import BASE as TRACKED
from plans import edited
from rules.protection.plans import packs
from study.test_allowed import BASE
from study.test_answers_by_hand import LAMP
from study.test_protection_by_hand import BRANCH, OUTLET, PANEL, SERIES, SHARED
from study.test_several_members import BOAT, TWO_BANKS
from study.test_ways_around import around
from wattproof.circuit import Passage, Terminal
from wattproof.codes import body, style
from wattproof.plan.devices import Fuse, Way
from wattproof.study.protection import ProtectionSection
from wattproof.study.protection.answers import Allowed
from wattproof.study.protection.breaking import _by_size, is_breaker
from wattproof.study.protection.guards import Exit, first_devices
from wattproof.study.protection.interrupts import Duty
from wattproof.study.protection.larger_device import exposed
from wattproof.study.protection.spans import length_of, span_of
from wattproof.testing import study_of


def returns(plan: str) -> dict[str, Allowed]:
    return {a.wire.name: a for a in study_of(plan).protection.allowed if a.kind == "return"}


# What comes back.


def test_two_fuses_add_up_in_what_comes_back() -> None:
    """200 A of both to the heater are more than 150 A of one fuse to the pump."""
    plan = SHARED[: SHARED.index("  right: {")]
    found = returns(plan)["left"]
    assert found.lasting.number == 200.0
    assert {device.name for device in found.limiting} == {"one-fuse", "two-fuse"}


def test_of_two_places_with_as_much_the_last_by_name_is_told() -> None:
    plan = edited((",\n              inline: [{pump-fuse: {from_end: from, distance: 10 cm}}]", ""),
                  plan=SHARED)  # fmt: skip
    for wire in ("left", "right"):
        brings = returns(plan)[wire].brings
        assert brings is not None
        assert brings.name == "pump-plus"


def test_what_no_device_limits_is_not_told_of_a_shared_return() -> None:
    plan = SHARED
    for name, end in (("one", "from"), ("two", "from"), ("pump", "from")):
        at = plan.index(f"{{{name}-fuse: {{from_end: {end}")
        start, stop = plan.rindex(",", 0, at), plan.index("]", at) + 1
        plan = plan[:start] + plan[stop:]
    assert not {"left", "right"} & set(returns(plan))


def test_what_comes_back_to_a_row_is_limited_above_its_top() -> None:
    found = {name: a.lasting.number for name, a in returns(SERIES).items()}
    assert found == {"lamp-minus": 100.0, "fan-minus": 150.0}


# Ways out of a bank.


@pytest.mark.parametrize(
    ("rest", "switch", "first"),
    [
        ("25 cm", "{off: {from_end: from, distance: 5 cm}}", "jumper"),
        ("10 cm", "{off: {from_end: from, distance: 5 cm}}", "house-run"),
        ("15 cm", "off", "jumper"),  # at the most as far on either side of it
    ],
)
def test_the_way_around_is_measured_over_all_its_wires(rest: str, switch: str, first: str) -> None:
    """To the far side of a fuse at half a metre: 30 cm, a switch, and the rest to the bar."""
    plan = edited(
        ("busbars:\n", "switches:\n  off: {rating: 200 A, voltage: 32 V, dc: true, poles: 1}\n"
         "busbars:\n  mid: {rating: 250 A}\n"),
        ("wires:\n", "wires:\n  jumper: {from: house, to: mid, cable: thick, length: 30 cm}\n"
         f"  on: {{from: mid, to: bar, cable: thick, length: {rest}, inline: [{switch}]}}\n"),
        ("{from_end: from, distance: 10 cm}}]}\n  stub",
         "{from_end: to, distance: 0 cm}}]}\n  stub"),
        plan=BOAT,
    )  # fmt: skip
    assert around(study_of(plan)) == {first}


def test_a_way_out_ends_at_a_converter() -> None:
    assert {way.reaches for way in study_of(OUTLET).protection.exits} == {"down"}


@pytest.mark.parametrize("metres", [0.5, 0.9])
def test_no_controller_is_nearer_than_a_fuse_at_the_post(metres: float) -> None:
    plan = edited(("{from_end: to, distance: 10 cm}", "{from_end: to, distance: 0 m}"),
                  ("batt-8, length: 1 m", f"batt-8, length: {metres:g} m"))  # fmt: skip
    [way] = study_of(plan).protection.exits
    assert way.weak_end == ""


@pytest.mark.parametrize(("wires", "enclosed"), [((True, False), False), ((True, True), True)])
def test_a_way_is_enclosed_where_all_its_wires_are(wires: tuple[bool, ...], enclosed: bool) -> None:
    bank: Any = None
    conductors: Any = tuple(SimpleNamespace(wire=SimpleNamespace(enclosed=e)) for e in wires)
    assert Exit(bank, conductors, None, "").enclosed is enclosed


@pytest.mark.parametrize(
    "wires",
    [
        "  idle: {from: bar, to: spare, cable: thin, length: 1 m, place: cabin}\n",
        "  idle: {from: bar, to: fan, cable: thin, length: 1 m, place: cabin}\n"
        "  more: {from: fan, to: spare, cable: thin, length: 1 m, place: cabin,\n"
        "         inline: [fan-fuse]}\n",
    ],
)
def test_no_device_is_first_behind_a_dead_end_or_a_load(wires: str) -> None:
    plan = edited(("busbars:\n", "busbars:\n  spare: {rating: 100 A}\n"),
                  ("loads:\n", "loads:\n  fan: {current: 5 A}\n"),
                  ("fuses:\n", f"fuses:\n  {LAMP.replace('lamp', 'fan')}\n"),
                  plan=BASE)  # fmt: skip
    study = study_of(plan + wires)
    [part] = [c for c in study.wiring.wires["idle"].conductors if c.pole == "positive"]
    assert first_devices(part, Terminal("bar", "", "positive"), study.circuit) == ()


TALL = edited(
    ("batteries:\n", "batteries:\n  top: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n"),
    ("wires:\n", "wires:\n"
     "  high: {from: top.negative, to: upper.positive, cable: batt-2, length: 20 cm}\n"),
    ("lamp-plus: {from: upper", "lamp-plus: {from: top"),
    ("fan-plus: {from: upper", "fan-plus: {from: top"),
    plan=SERIES,
)  # fmt: skip


@pytest.mark.parametrize(
    ("tap", "links"),
    [("top", {"high": 150.0, "link": 150.0}), ("upper", {"high": 100.0})],
)
def test_the_links_below_a_tap_are_held_to_no_fuse_at_the_top(
    tap: str, links: dict[str, float]
) -> None:
    """Of three in a row; out of the middle of it a way goes beside the link to the next."""
    plan = TALL.replace("fan-plus: {from: top", f"fan-plus: {{from: {tap}")
    guards = study_of(plan).protection.link_guards
    assert {guard.wire.name: guard.rating.number for guard in guards} == links


# What is ahead of a stretch.


def test_only_what_lies_before_a_stretch_since_the_last_device_counts_with_it() -> None:
    """30 cm behind 80 A, too much for 4 mm² too, and 10 cm to the lamp's own fuse."""
    plan = edited(
        ("busbars:\n", "busbars:\n  stud: {rating: 250 A}\n"),
        ("fuses:\n", f"fuses:\n  {LAMP.replace('lamp', 'mid').replace('20 A', '80 A')}\n"),
        ("lamp-run: {from: bar", "mid: {from: bar, to: stud, cable: thin, length: 40 cm, "
         "place: cabin, inline: [{mid-fuse: {from_end: from, distance: 10 cm}}]}\n"
         "  lamp-run: {from: stud"),
        plan=BASE,
    )  # fmt: skip
    [found] = [
        a
        for a in study_of(plan).protection.allowed
        if a.kind == "bank" and a.part.start == Terminal("stud", "", "positive")
    ]
    assert found.bare is not None
    assert tuple(found.bare) == pytest.approx((0.4, 0.4))


def leads(fuse: str, lead: str, rating: int, cable: str) -> str:
    """Three packs behind a fuse each; a lamp's fuse beside the first pack's own."""
    own = (f"pack-run-1: {{from: pack-1, to: bar, cable: {cable}, length: 1 m, place: cabin, "
           "inline: [{fuse-1: {from_end: from, distance: 10 cm}}]}\n")  # fmt: skip
    return edited(
        ("busbars:\n", "busbars:\n  stud: {rating: 300 A}\n"),
        (own, f"lead: {{from: stud, to: bar, cable: {cable}, length: {lead}, place: cabin}}\n"
         f"  pack-run-1: {{from: pack-1, to: stud, cable: {cable}, length: 20 cm,\n"
         f"               inline: [{fuse}]}}\n"
         "  lamp-run: {from: stud, to: lamp, cable: b-14, length: 20 cm, place: cabin, "
         "inline: [{lamp-fuse: {from_end: from, distance: 5 cm}}]}\n"),
        plan=packs(3, rating, cable, ""),
    )  # fmt: skip


def into_the_lead(plan: str) -> Allowed:
    """What the other two packs may do to the lead of the first."""
    [found] = [
        a
        for a in study_of(plan).protection.allowed
        if a.wire.name == "lead" and a.sources == ("pack-2", "pack-3")
    ]
    return found


def test_what_is_ahead_are_the_fuses_of_packs_only_where_all_are() -> None:
    """60 A are within what the lead bears; the lamp's 10 A are of no pack."""
    fuse = "{fuse-1: {from_end: from, distance: 10 cm}}"
    found = into_the_lead(leads(fuse, "1 m", 50, "b-4"))
    assert found.lasting.number == 100.0
    assert found.most is not None
    assert found.most.number == 70.0
    assert (found.verdict, found.reason) == ("not allowed", "too large")
    assert {device.name for device in found.devices} == {"fuse-2", "fuse-3"}


def test_the_fuse_of_a_pack_at_no_known_distance_is_not_near_what_others_feed() -> None:
    """Between 5 and 25 cm away, and 17.8 cm by ABYC E-11."""
    plan = edited(("code: nec-2023", "code: abyc-e11"), ("setting: vehicle", "setting: boat"),
                  plan=leads("fuse-1", "5 cm", 70, "b-8"))  # fmt: skip
    found = into_the_lead(plan)
    assert (found.verdict, found.reason) == ("not allowed", "too large")
    assert {device.name for device in found.devices} == {"fuse-2", "fuse-3"}


def test_a_controller_on_a_banks_net_is_told_as_an_output() -> None:
    found = [a for a in study_of(TRACKED).protection.allowed if a.kind == "output"]
    assert {(a.sources, a.wire.name, a.fed_at) for a in found} >= {
        (("tracker",), "charge-run", "tracker")
    }


def test_a_fuse_ahead_in_its_own_wire_or_two_in_others() -> None:
    """25 A in the lamp's own wire are too much for 14 AWG, and are named themselves."""
    found = [
        (a.verdict, a.reason, [device.name for device in a.devices])
        for a in study_of(BOAT.replace("lamp-fuse: {rating: 20 A", "lamp-fuse: {rating: 150 A"))
        .protection.allowed
        if a.kind == "bank" and a.part.start == Terminal("stud", "", "positive")
        and a.wire.name == "lamp-run"
    ]  # fmt: skip
    assert found == [("not allowed", "too large", ["lamp-fuse"])]


# What opens first.


def test_a_wire_is_cleared_only_where_all_that_comes_in_is() -> None:
    """Between two banks, with one fuse at one of them: from the other nothing opens."""
    plan = edited(
        ("  house: {", "  other: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n  house: {"),
        ("house-run: {from: house, to: bar", "house-run: {from: house, to: other"),
        ("lamp-run: {from: bar", "lamp-run: {from: other"),
        plan=BASE,
    )
    study = study_of(plan)
    assert not study.protection.is_cleared(study.wiring.wires["house-run"])
    assert study.protection.is_cleared(study.wiring.wires["lamp-run"])


@pytest.mark.parametrize(
    ("amps", "untold", "first"),
    [((40.0, 45.0), (), True), ((40.0, 60.0), (), False), ((40.0, 45.0), ("rating",), False)],
)
def test_a_device_opens_first_where_it_does_from_each_bank(
    amps: tuple[float, ...], untold: tuple[str, ...], first: bool
) -> None:
    """50 A flow in it, of which it stands 55 A; one of which nobody told a rating is none."""
    wire: Any = SimpleNamespace(
        name="run",
        current=SimpleNamespace(number=50.0),
        fails=lambda most: most.number > 55.0,
    )
    assumed = [SimpleNamespace(key=key) for key in untold]
    ratings = [SimpleNamespace(number=a, assumptions=assumed) for a in amps]
    answers = [
        SimpleNamespace(wire=wire, kind="bank", verdict="cleared", in_all=((), rating))
        for rating in ratings
    ]
    section: Any = SimpleNamespace(_allowed_of={wire.name: answers}, _in_line=lambda wire: ())
    assert ProtectionSection.opens_first(section, wire) is first


# What devices have to break.


def test_a_duty_is_by_the_bank_of_the_highest_voltage() -> None:
    plan = BRANCH.replace("one: {chemistry: agm, nominal: 12 V",
                          "one: {chemistry: lithium-iron-phosphate, nominal: 12.8 V")  # fmt: skip
    for duty in study_of(plan).protection.duties:
        assert duty.nominal.number == 12.8


def test_a_breaker_of_two_poles_breaks_the_larger_current() -> None:
    """Its pole in the negative sits a metre farther from the post."""
    plan = edited(
        ("lamp-breaker: {rating: 20 A, voltage: 58 V, poles: 1",
         "lamp-breaker: {rating: 20 A, voltage: 58 V, poles: 2"),
        ("beside: {from: one, to: two, cable: batt-2, length: 0.3 m}",
         "beside: {from: one.positive, to: two.positive, cable: batt-2, length: 0.3 m}\n"
         "  below: {from: one.negative, to: two.negative, cable: batt-2, length: 3 m}"),
        plan=BRANCH,
    )  # fmt: skip
    study = study_of(plan)
    poles = [
        short.current.number
        for e in study.circuit.battery_side
        if isinstance(e, Passage) and e.name == "lamp-breaker"
        and (short := study.wiring.network.through(e)) is not None
    ]  # fmt: skip
    assert len(set(poles)) == 2
    [duty] = [d for d in study.protection.duties if d.name == "lamp-breaker"]
    assert duty.prospective.number == max(poles)


@pytest.mark.parametrize(("distances", "placed"), [((0.1, None), False), ((0.1, 0.2), True)])
def test_a_device_is_placed_where_each_of_its_poles_is(
    distances: tuple[float | None, ...], placed: bool
) -> None:
    poles = [SimpleNamespace(inline=SimpleNamespace(distance=d)) for d in distances]
    any_of: Any = None
    device: Any = SimpleNamespace(passages=[*poles, SimpleNamespace(inline=None)])
    assert Duty(device, any_of, any_of, any_of, ()).placed is placed


def test_a_way_of_a_panel_has_a_breaker_or_a_fuse() -> None:
    for name, is_one in (("surface-breaker", True), ("blade", False)):
        assert (style(name).kind == "breaker") is is_one
        written: Any = name
        assert is_breaker(Way.model_construct(style=written)) is is_one


# What is held to it.


def test_a_plug_between_two_banks_is_held_to_the_larger_fuse_and_the_least_in_its_wire() -> None:
    """200 A from one side and 40 A from the other, lamps without fuses on both bars."""
    plan = edited(
        ("cabin, inline: [relay]}", "cabin, plug: cigar, plug_rating: 60 A}"),
        (",\n             inline: [{lamp-fuse: {from_end: from, distance: 4 cm}}]", ""),
        (",\n             inline: [{pump-fuse: {from_end: from, distance: 6 cm}}]", ""),
        ("pump-run: {from: stud", "pump-run: {from: bar"),
        plan=TWO_BANKS,
    )
    [held] = [h for h in study_of(plan).protection.held if h.what == "plug"]
    assert held.through.number == 200.0
    two = edited(
        ("fuses:\n", "fuses:\n"
         f"  {LAMP.replace('lamp', 'first').replace('20 A', '30 A')}\n"),
        ("inline: [{lamp-fuse: {from_end: from, distance: 10 cm}}]",
         "plug: cigar, plug_rating: 25 A,\n"
         "             inline: [{first-fuse: {from_end: from, distance: 5 cm}}, "
         "{lamp-fuse: {from_end: from, distance: 10 cm}}]"),
        plan=BASE,
    )  # fmt: skip
    [held] = [h for h in study_of(two).protection.held if h.what == "plug"]
    assert held.through.number == 20.0


def test_behind_a_larger_fuse_the_ratings_of_all_ways_of_a_panel_add_up() -> None:
    """4 mm² may have 20 A before it: 15 A and 5 A, and not 15 A and 10 A."""
    for two, left in (("5 A", set()), ("10 A", {"panel-run"})):
        plan = edited(("to: panel, cable: thick", "to: panel, cable: thin"),
                      ("two: {fuse: 10 A", f"two: {{fuse: {two}"),
                      ("pump: {current: 12 A", "pump: {current: 4 A"), plan=PANEL)  # fmt: skip
        study = study_of(plan)
        device = study.wiring.devices["feed-fuse"]
        found = {e.wire.name: e for e in exposed(study.protection.guards, device, 60.0)}
        assert set(found) & {"panel-run"} == left


def test_the_wire_that_would_do_behind_a_larger_fuse() -> None:
    study = study_of(edited((LAMP, LAMP.replace("20 A", "30 A")), plan=BASE))
    [found] = exposed(study.protection.guards, study.wiring.devices["lamp-fuse"], 60.0)
    thicker = found.thicker()
    assert thicker is not None
    assert thicker.is_protected_by(found.through)
    sizes = list(found.wire.larger_sizes())
    before = sizes[: [s.area_mm2 for s in sizes].index(thicker.area_mm2)]
    assert before
    assert not any(s.is_protected_by(found.through) for s in before)


# How long.


@pytest.mark.parametrize(
    ("second", "least", "span"),
    [
        ("{lamp-breaker: {from_end: from, distance: 30 cm}}", 0.2, (0.2, 0.2)),
        ("lamp-breaker", 0.0, (0.0, 0.9)),
    ],
)
def test_a_stretch_between_two_devices(
    second: str, least: float, span: tuple[float, float]
) -> None:
    plan = BRANCH.replace("{lamp-breaker: {from_end: from, distance: 20 cm}}",
                          second)  # fmt: skip
    parts = [c for c in study_of(plan).wiring.wires["lamp-run"].conductors if c.pole == "positive"]
    assert length_of(parts[1:2], "L", "length").number == pytest.approx(least)
    assert tuple(span_of(parts[1:2])) == pytest.approx(span)


def test_a_borrowed_window_is_told_as_borrowed_at_both_its_ends() -> None:
    lower, upper = body("iso-13297").string_fuse_window(5.0)
    assert upper is not None
    for end in (lower, upper):
        assert end.source.endswith("as ISO 13297 states none")


def test_what_a_string_gives_is_held_to_its_wire_though_its_insulation_is_not_told() -> None:
    plan = edited(("kind: pv, insulation_temperature: 90 °C", "kind: pv"), plan=TRACKED)
    found = [a for a in study_of(plan).protection.allowed if a.kind == "string"]
    assert found
    assert all(each.most is not None for each in found)


def test_only_banks_are_stiff() -> None:
    for fault in study_of(TRACKED).protection.fault_sweep.faults:
        for feed in fault.feeds:
            assert feed.stiff is (feed.source == "house")


@pytest.mark.parametrize(
    ("amps", "row"),
    [(40.0, "fuse to 40 A"), (41.0, "fuse to 100 A"), (100.0, "fuse to 100 A"),
     (101.0, "larger fuse")],
)  # fmt: skip
def test_what_a_fuse_of_unknown_style_breaks_goes_by_its_size(amps: float, row: str) -> None:
    rating: Any = SimpleNamespace(value=amps)
    assert _by_size(Fuse.model_construct(rating=rating)) == row
