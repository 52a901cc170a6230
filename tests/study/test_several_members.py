"""Sums, the smallest and the largest of several, where only one of the members is right."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import pytest

from plans import BASE as VAN
from plans import array_plan, edited
from rule_runs import found
from wattproof.circuit import Passage, Terminal
from wattproof.study import Study
from wattproof.study.limits import SLACK
from wattproof.study.protection.answers import Allowed, worst_of
from wattproof.study.protection.spans import TINY, Span, length_of
from wattproof.study.wiring.busbars import BusbarStudy
from wattproof.study.wiring.ports import at_once
from wattproof.testing import study_of
from wattproof.working import Value, steps

BOAT = """\
wattproof: 1
setting: boat
code: abyc-e11
site: {coldest: -5 °C, hottest: 40 °C, places: {cabin: {ambient: 30 °C}}}
datasheets:
  cables:
    thick: {size: 2/0 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
            voltage: 600 V}
    thin: {size: 12 AWG, kind: battery, material: copper, insulation_temperature: 105 °C,
           voltage: 600 V}
fuses:
  house-fuse: {rating: 200 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  lamp-fuse: {rating: 20 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
  pump-fuse: {rating: 20 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A}
busbars:
  bar: {rating: 250 A}
  stud: {rating: 250 A}
loads:
  lamp: {current: 5 A}
  pump: {current: 5 A}
wires:
  house-run: {from: house, to: bar, cable: thick, length: 50 cm, place: cabin,
              inline: [{house-fuse: {from_end: from, distance: 10 cm}}]}
  stub: {from: bar, to: stud, cable: thin, length: 5 cm, place: cabin}
  lamp-run: {from: stud, to: lamp, cable: thin, length: 3 m, place: cabin,
             inline: [{lamp-fuse: {from_end: from, distance: 4 cm}}]}
  pump-run: {from: stud, to: pump, cable: thin, length: 3 m, place: cabin,
             inline: [{pump-fuse: {from_end: from, distance: 6 cm}}]}
"""
FAR = ("pump-fuse: {from_end: from, distance: 6 cm", "pump-fuse: {from_end: from, distance: 30 cm")


def answer(study: Study, wire: str, kind: str = "bank") -> Allowed:
    """What decides of the positive of a wire, the worst stretch of it."""
    own = [a for a in study.protection.allowed if a.wire.name == wire and a.kind == kind]
    worst = worst_of(own)
    assert worst is not None
    return worst


class TestAStretchBeforeTwoDevices:
    """By ABYC E-11 7 in (178 mm) without a device, 40 in (1016 mm) where all of it is enclosed."""

    def test_both_near_and_small_enough(self) -> None:
        own = answer(study_of(BOAT), "stub")
        assert (own.verdict, own.reason) == ("short enough", None)
        assert {d.name for d in own.devices} == {"lamp-fuse", "pump-fuse"}

    def test_how_much_is_bare_is_the_longer_of_the_ways(self) -> None:
        own = answer(study_of(BOAT), "stub")
        assert own.bare is not None
        assert own.bare.most == pytest.approx(0.05 + 0.06)

    def test_one_of_them_far_away(self) -> None:
        own = answer(study_of(edited(FAR, plan=BOAT)), "stub")
        assert (own.verdict, own.reason) == ("not allowed", "too large")

    def test_an_enclosure_has_to_hold_all_of_the_way(self) -> None:
        part = edited(FAR, ("thin, length: 5 cm", "thin, enclosed: true, length: 5 cm"), plan=BOAT)
        assert answer(study_of(part), "stub").verdict == "not allowed"
        whole = part.replace("thin, length: 3 m", "thin, enclosed: true, length: 3 m")
        assert answer(study_of(whole), "stub").verdict == "short enough"

    def test_together_they_let_through_what_both_do(self) -> None:
        """50 A each protect 12 AWG one by one, and not both: 100 A."""
        plan = BOAT.replace("-fuse: {rating: 20 A", "-fuse: {rating: 50 A")
        study = study_of(plan)
        may = study.wiring.wires["stub"]
        assert may.is_protected_by(Value(50.0, "A"))
        assert not may.is_protected_by(Value(100.0, "A"))
        own = answer(study, "stub")
        assert (own.verdict, own.reason) == ("not allowed", "too large")


def test_what_lies_before_a_switch_counts_behind_it() -> None:
    """10 cm to a switch and 15 cm to the fuse: 25 cm without one, and 178 mm may be."""
    plan = edited(
        ("fuses:\n", "switches:\n  key: {rating: 100 A, voltage: 32 V, dc: true, poles: 1}\n"
         "fuses:\n"),
        ("inline: [{lamp-fuse: {from_end: from, distance: 4 cm}}]",
         "inline: [{key: {from_end: from, distance: 10 cm}}, "
         "{lamp-fuse: {from_end: from, distance: 25 cm}}]"),
        ("  stub: {from: bar, to: stud, cable: thin, length: 5 cm, place: cabin}\n",
         "  stub: {from: bar, to: stud, cable: thick, length: 5 cm, place: cabin}\n"),
        plan=BOAT,
    )  # fmt: skip
    own = [a for a in study_of(plan).protection.allowed if a.wire.name == "lamp-run"]
    assert [a.reason for a in own if a.kind == "bank"] == ["too far", "too far", None]


def test_a_wire_carries_what_its_fuller_pole_does() -> None:
    """What the lamp draws comes back through the negative of the pump: 5 A out, 10 A back."""
    plan = edited(
        ("  lamp-run: {from: stud, to: lamp,", "  lamp-back: {from: lamp.negative, to: "
         "pump.negative, cable: thin, length: 1 m, place: cabin}\n"
         "  lamp-run: {from: stud.positive, to: lamp.positive,"),
        plan=BOAT,
    )  # fmt: skip
    wires = study_of(plan).wiring.wires
    for current in (wires["pump-run"].current, wires["pump-run"].operating):
        assert current is not None
        assert current.number == 10.0
    assert wires["lamp-run"].current is not None
    assert wires["lamp-run"].current.number == 5.0


class TestLengths:
    def test_at_the_limit_with_what_decimals_lose(self) -> None:
        """A length at its limit is not over it, and one that is longer by a part in 10⁸ is."""
        at, beyond = 1.0 + SLACK, 1.0 + 10 * SLACK
        assert Span(at, 2.0).is_over(1.0) is False
        assert Span(beyond, 2.0).is_over(1.0) is True
        assert Span(0.0, at).is_within(1.0) is True
        assert Span(0.0, 1.0 + 1e-7).is_within(1.0) is False
        assert Span(0.0, TINY).is_known is True
        assert Span(1.0, 1.0 + 3 * TINY).is_known is False

    def test_where_the_place_of_a_device_is_not_told(self) -> None:
        plan = edited(
            ("[{house-fuse: {from_end: from, distance: 10 cm}}]", "[house-fuse]"), plan=BOAT
        )
        [way] = study_of(plan).protection.ways.all
        assert way.exit.length.number == 0.0
        assert (way.exit.span.least, way.exit.span.most) == (0.0, 0.5)
        parts = study_of(plan).wiring.wires["house-run"].conductors
        own = [length_of((c,), "L", "length").number for c in parts if c.pole == "positive"]
        assert own == [0.0, 0.0]

    def test_between_two_devices_whose_places_are_not_told(self) -> None:
        fuse = "{rating: 200 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}"
        plan = edited(
            ("[{house-fuse: {from_end: from, distance: 10 cm}}]", "[house-fuse, spare-fuse]"),
            ("  lamp-fuse:", f"  spare-fuse: {fuse}\n  lamp-fuse:"),
            plan=BOAT,
        )
        parts = study_of(plan).wiring.wires["house-run"].conductors
        own = [length_of((c,), "L", "length").number for c in parts if c.pole == "positive"]
        assert own == [0.0, 0.0, 0.0]

    @pytest.mark.parametrize(("end", "first", "second"), [("from", 0.1, 0.4), ("to", 0.4, 0.1)])
    def test_before_and_behind_a_device(self, end: str, first: float, second: float) -> None:
        plan = edited(("house-fuse: {from_end: from", f"house-fuse: {{from_end: {end}"), plan=BOAT)
        parts = study_of(plan).wiring.wires["house-run"].conductors
        own = [length_of((c,), "L", "length") for c in parts if c.pole == "positive"]
        assert [each.number for each in own] == pytest.approx([first, second])
        whole = [c for c in parts if c.pole == "positive"]
        assert length_of(whole, "L", "length").number == 0.5
        assert [step.formula for step in steps(length_of(whole, "L", "length"))] == ["L(house-run)"]
        assert length_of((), "L", "length").number == 0.0

    def test_through_two_wires_it_is_the_sum(self) -> None:
        plan = edited(
            ("  house-run: {from: house, to: bar, cable: thick, length: 50 cm, place: cabin,",
             "  post: {from: house, to: stud-2, cable: thick, length: 20 cm, place: cabin}\n"
             "  house-run: {from: stud-2, to: bar, cable: thick, length: 50 cm, place: cabin,"),
            ("  stud: {", "  stud-2: {rating: 250 A}\n  stud: {"),
            plan=BOAT,
        )  # fmt: skip
        ways = [w for w in study_of(plan).protection.ways.all if w.exit.device is not None]
        assert [w.exit.length.number for w in ways] == pytest.approx([0.3] * len(ways))


def test_a_charger_is_cleared_by_the_smallest_device_on_its_way() -> None:
    plan = edited(
        ("batteries:", "chargers:\n  shore: {kind: shore, max_output_current: 90 A, "
         "charge_voltage: 14.4 V}\nbatteries:"),
        ("fuses:\n", "fuses:\n  shore-fuse: {rating: 100 A, voltage: 125 V, style: class-t, "
         "interrupt: 20 kA, dc: true}\n"),
        ("  stub: {from: bar, to: stud, cable: thin, length: 5 cm, place: cabin}\n",
         "  shore-run: {from: shore, to: stud, cable: thick, length: 1 m, place: cabin, "
         "inline: [{shore-fuse: {from_end: from, distance: 5 cm}}]}\n"
         "  stub: {from: stud, to: bar, cable: thin, length: 50 cm, place: cabin,\n"
         "         inline: [{tie-fuse: {from_end: from, distance: 5 cm}}]}\n"),
        ("  pump-fuse: {", "  tie-fuse: {rating: 20 A, voltage: 125 V, style: class-t, "
         "interrupt: 20 kA, dc: true}\n  pump-fuse: {"),
        plan=BOAT,
    )  # fmt: skip
    own = [
        a
        for a in study_of(plan).protection.allowed
        if a.wire.name == "stub" and a.kind == "output" and len(a.devices) == 1
    ]
    assert {(a.verdict, a.devices[0].name) for a in own} >= {("cleared", "tie-fuse")}


TWO_BANKS = edited(
    ("  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, max_charge_current: 30 A}",
     "  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 5 kA}\n"
     "  start: {chemistry: agm, nominal: 12 V, capacity: 100 Ah, short_circuit_current: 1 kA}"),
    ("fuses:\n", "switches:\n  relay: {rating: 60 A, voltage: 32 V, dc: true, poles: 1}\nfuses:\n"
     "  start-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}\n"),
    ("  stub: {from: bar, to: stud, cable: thin, length: 5 cm, place: cabin}\n",
     "  link: {from: bar, to: stud, cable: thick, length: 1 m, place: cabin, inline: [relay]}\n"
     "  start-run: {from: start, to: stud, cable: thick, length: 1 m, place: cabin,\n"
     "              inline: [{start-fuse: {from_end: from, distance: 10 cm}}]}\n"),
    plan=BOAT,
)  # fmt: skip


class TestBetweenTwoBanks:
    def test_a_relay_is_held_to_the_larger_of_the_two_fuses(self) -> None:
        """200 A from one side, of which 40 A and 2 x 20 A go on; 40 A from the other."""
        [held] = [h for h in study_of(TWO_BANKS).protection.held if h.name == "relay"]
        assert held.through.number == 80.0
        assert held.reason == "would open a switch rated below"
        small = study_of(
            TWO_BANKS.replace("house-fuse: {rating: 200 A", "house-fuse: {rating: 50 A")
        )
        [held] = [h for h in small.protection.held if h.name == "relay"]
        assert (held.through.number, held.reason) == (50.0, None)

    def test_a_fuse_has_to_break_what_comes_from_the_stronger_side(self) -> None:
        """`start-fuse` beside a bank of 1 kA breaks what one of 5 kA drives through 2.5 m."""
        study = study_of(TWO_BANKS)
        [passage] = [
            e
            for e in study.circuit.battery_side
            if isinstance(e, Passage) and e.name == "start-fuse"
        ]
        network = study.wiring.network
        sides = [network.through_from(passage, start=start) for start in (True, False)]
        amps = sorted(short.current.number for short in sides if short is not None)
        assert len(amps) == 2
        assert amps[1] > 1.3 * amps[0]
        whole = network.through(passage)
        assert whole is not None
        assert whole.current.number == amps[1]
        [duty] = [d for d in study.protection.duties if d.name == "start-fuse"]
        assert duty.prospective.number == amps[1]

    def test_a_stretch_sees_the_larger_short_of_its_two_ends(self) -> None:
        study = study_of(TWO_BANKS)
        network = study.wiring.network
        for part in study.wiring.wires["house-run"].conductors:
            ends = [network.short_at(end) for end in (part.start, part.end)]
            amps = [short.current.number for short in ends if short is not None]
            along = network.short_along(part)
            assert along is not None
            assert along.current.number == max(amps)

    def test_a_short_at_the_bar_adds_both_banks(self) -> None:
        study = study_of(TWO_BANKS)
        short = study.wiring.network.short_at(Terminal("bar", "", "positive"))
        assert short is not None
        parts = [amps.number for _, amps in short.banks]
        assert len(parts) == 2
        assert short.current.number == pytest.approx(sum(parts))


def source(name: str, never_with: str | None = None) -> Any:
    return SimpleNamespace(name=name, never_with=never_with)


class TestExclusiveSources:
    def test_of_two_pairs_the_larger_of_each(self) -> None:
        weighed = [
            (source("shore", "generator"), 30.0),
            (source("generator"), 50.0),
            (source("roof", "wind"), 20.0),
            (source("wind"), 10.0),
            (source("dynamo"), 5.0),
        ]
        assert at_once(weighed) == [False, True, True, False, True]

    def test_one_with_two_outputs_weighs_both(self) -> None:
        weighed = [
            (source("shore", "generator"), 30.0),
            (source("generator"), 20.0),
            (source("generator"), 20.0),
        ]
        assert at_once(weighed) == [False, True, True]

    def test_a_pair_whose_other_is_not_here_is_none(self) -> None:
        assert at_once([(source("shore", "wind"), 30.0), (source("roof"), 20.0)]) == [True, True]


def bar(*amps: float) -> BusbarStudy:
    legs = tuple((f"leg-{k}", Value(a, "A")) for k, a in enumerate(amps))
    return BusbarStudy(cast(Any, SimpleNamespace(name="bar", rating=None)), legs)


@pytest.mark.parametrize(
    ("legs", "least"),
    [
        ((100.0,), 100.0),
        ((100.0, 80.0), 80.0),
        ((100.0, 60.0, 40.0), 60.0),
        ((100.0, 30.0, 30.0, 40.0), 50.0),
    ],
)
def test_what_some_part_of_a_bar_carries(legs: tuple[float, ...], least: float) -> None:
    """The second leg, or half of all; whatever the order in which its legs are joined."""
    assert bar(*legs).at_least == least
    assert bar(*legs).through.number == legs[0]


STRINGS = """\
  port: {module: rigid-100, series: 1, mounting: roof-gap}
  middle: {module: rigid-100, series: 1, mounting: roof-gap}
  starboard: {module: rigid-100, series: 1, mounting: roof-gap}
"""


def three_strings(inline: str) -> str:
    """Three strings at a joint; what sits in the lead of one."""
    cable = "cable: pv-10, length: 2 m, place: roof"
    plan = array_plan(
        STRINGS,
        f"  port-lead: {{from: port, to: joint, {cable}{inline}}}\n"
        f"  middle-lead: {{from: middle, to: joint, {cable}}}\n"
        f"  starboard-lead: {{from: starboard, to: joint, {cable}}}\n"
        "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m, place: [roof, "
        "cabin]}\n",
        "  joint: {kind: combiner-box, joins: [port, middle, starboard]}\n",
    )
    return edited(
        ("fuses:\n", "fuses:\n  small: {rating: 10 A, voltage: 250 V, style: gpv, dc: true}\n"
         "  large: {rating: 25 A, voltage: 250 V, style: gpv, dc: true}\n"),
        plan=plan,
    )  # fmt: skip


def test_the_smaller_of_two_fuses_in_a_string_protects_it() -> None:
    """10 A and 25 A behind each other, in modules of 15 A: 10 A can last, of 2 x 1.25 x 5.2 A."""
    both = three_strings(", inline: [small, large]")
    study = study_of(both)
    [array] = study.array.arrays
    [flow] = [f for f in array.backflows if f.string.name == "port"]
    assert flow.guarded_by is not None
    assert flow.guarded_by.name == "small"
    assert flow.current is not None
    assert flow.unlimited is not None
    assert flow.current.number == 10.0
    factor = study.codes.array.reverse_current_factor.value
    assert flow.unlimited.number == pytest.approx(2 * 5.2 * factor)
    assert not flow.is_over_label
    assert not found(both, "string-fuse-over-module")


def test_unlike_modules_in_a_string_stand_what_the_weakest_does() -> None:
    plan = edited(
        ("  cables:\n", "    weak: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.8 A, pmax: 98 W, "
         "voc_coefficient: -0.40 %/°C, max_series_fuse: 10 A, max_system_voltage: 600 V}\n"
         "  cables:\n"),
        ("{module: rigid-100, series: 3, mounting: roof-gap}",
         "{modules: [rigid-100, weak, rigid-100], mounting: roof-gap}"),
        plan=VAN,
    )  # fmt: skip
    [array] = study_of(plan).array.arrays
    [string] = array.all_strings
    assert string.max_series_fuse.number == 10.0
    assert string.imp("standard").number == pytest.approx(4.8)
    assert string.voc("standard").number == pytest.approx(3 * 24.3)
    # The cold voltage of the weak one rises most: 24.3 V x (1 + 0.40 % x 43 K) = 28.48 V.
    assert array.fitting_in_series(2 * 28.5) == 2
    assert array.fitting_in_series(2 * 28.4) == 1


@pytest.mark.parametrize("places", ["[roof, cabin]", "[cabin, roof]"])
def test_a_wire_through_two_places_is_as_good_as_in_the_hotter(places: str) -> None:
    def may(place: str) -> float:
        plan = edited(
            ("place: [roof, cabin]", f"place: {place}"), ("ambient: 65 °C", "ambient: 78 °C")
        )
        wire = study_of(plan).wiring.wires["home-run"]
        assert not isinstance(wire.carrying, str)
        assert wire.ambient.number >= (30.0 if place == "cabin" else 78.0)
        return wire.carrying.value.number

    assert may(places) == may("roof") < may("cabin")


def test_an_array_gives_no_less_than_its_best_module_lets_it() -> None:
    """4.9 A and 4.8 A in one string: by 4.9 A, at the voltage of cold cells and in bright sun."""
    plan = edited(
        ("  cables:\n", "    weak: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.8 A, pmax: 98 W, "
         "voc_coefficient: -0.29 %/°C, max_series_fuse: 15 A, max_system_voltage: 600 V}\n"
         "  cables:\n"),
        ("{module: rigid-100, series: 3, mounting: roof-gap}",
         "{modules: [weak, rigid-100, weak], mounting: roof-gap}"),
        ("max_output_current: 20 A", "max_output_current: 90 A"),
        plan=VAN,
    )  # fmt: skip
    study = study_of(plan)
    [array] = study.array.arrays
    [string] = array.all_strings
    brighter = string.isc("bright").number / string.isc("standard").number
    watts = string.vmp("coldest").number * 4.9 * brighter
    given = study.wiring.network.output(study.plan.controllers["tracker"])
    assert given.number == pytest.approx(watts / 12.8)
    assert given.number < 90.0


@pytest.mark.parametrize("code", ["iec", "as-nzs-3001"])
def test_how_a_wire_runs_tells_what_it_carries(code: str) -> None:
    """35 mm²: least in a conduit, more clipped to a surface, most in free air."""

    def may(run: str) -> float:
        plan = edited(
            ("code: nec-2023", f"code: {code}"),
            ("size: 8 AWG", "size: 35 mm²"),
            ("length: 1 m, place: cabin,", f"length: 1 m, place: cabin, run: {run},"),
        )
        wire = study_of(plan).wiring.wires["charge-run"]
        assert not isinstance(wire.carrying, str)
        return wire.carrying.value.number

    assert may("conduit") < may("surface") < may("free-air")
