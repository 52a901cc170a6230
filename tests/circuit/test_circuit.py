"""The circuit: nesting of series and parallel, both poles, and what is wrong as drawn."""

from __future__ import annotations

from itertools import pairwise

import pytest

from plans import array_plan, edited
from wattproof.circuit import (
    Circuit,
    Leaf,
    Parallel,
    Passage,
    Series,
    Source,
    Tree,
    build_circuit,
    leaves,
)
from wattproof.circuit.nets import nominal_class
from wattproof.plan import load_plan
from wattproof.source import PlanUnusable, Problem
from wattproof.testing import check_text


def circuit(text: str) -> Circuit:
    return build_circuit(load_plan("plan.yaml", text=text))


def problems(text: str) -> list[Problem]:
    with pytest.raises(PlanUnusable) as caught:
        circuit(text)
    return caught.value.problems


def shape(tree: Tree) -> str:
    """Nesting of sources alone: (a-b) in series, [a|b] in parallel."""
    if isinstance(tree, Leaf):
        return str(len(tree.element.modules)) if isinstance(tree.element, Source) else ""
    parts = [s for s in (shape(m) for m in tree.members) if s]
    if len(parts) < 2:
        return "".join(parts)
    return f"({'-'.join(parts)})" if isinstance(tree, Series) else f"[{'|'.join(sorted(parts))}]"


HOME = "  home: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"


class TestNesting:
    def test_the_short_form_4s2p_is_the_long_form(self) -> None:
        short = circuit(
            array_plan(
                "  joint: {module: rigid-100, arrangement: 4s2p}\n", HOME, max_input_current="40 A"
            )
        )
        long = circuit(
            array_plan(
                "  a: {module: rigid-100, series: 4}\n  b: {module: rigid-100, series: 4}\n",
                HOME,
                "  joint: {joins: [a, b], rating: 30 A}\n",
            )
        )
        assert shape(short.arrays[0].tree) == shape(long.arrays[0].tree) == "[4|4]"

    def test_the_short_form_4p2s_is_the_long_form(self) -> None:
        short = circuit(array_plan("  joint: {module: rigid-100, arrangement: 4p2s}\n", HOME))
        strings = "".join(f"  m{i}: {{module: rigid-100}}\n" for i in range(1, 9))
        wires = (
            "  link: {from: fore.positive, to: aft.negative, cable: pv-10, length: 1 m}\n"
            "  plus: {from: aft.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m}\n"
            "  minus: {from: fore.negative, to: tracker.pv.negative, cable: pv-10, length: 4 m}\n"
        )
        long = circuit(
            array_plan(
                strings,
                wires,
                "  fore: {joins: [m1, m2, m3, m4]}\n  aft: {joins: [m5, m6, m7, m8]}\n",
            )
        )
        assert shape(short.arrays[0].tree) == "([1|1|1|1]-[1|1|1|1])"
        assert shape(long.arrays[0].tree) == "([1|1|1|1]-[1|1|1|1])"

    def test_leads_and_joints_of_joints(self) -> None:
        strings = "".join(f"  s{i}: {{module: rigid-100, series: {i}}}\n" for i in (1, 2, 3))
        wires = (
            "  one: {from: s1, to: inner, cable: pv-10, length: 1 m}\n"
            "  two: {from: s2, to: inner, cable: pv-10, length: 1 m}\n"
            "  in: {from: inner, to: joint, cable: pv-10, length: 1 m}\n"
            "  three: {from: s3, to: joint, cable: pv-10, length: 1 m}\n" + HOME
        )
        tree = circuit(array_plan(strings, wires, "  inner: {}\n  joint: {}\n")).arrays[0].tree
        assert shape(tree) == "[3|[1|2]]"

    def test_a_mixed_string(self) -> None:
        text = array_plan(
            "  joint: {modules: [rigid-100, rigid-100]}\n",
            HOME,
        )
        [array] = circuit(text).arrays
        assert shape(array.tree) == "2"

    def test_a_large_array_is_reduced(self) -> None:
        text = array_plan("  joint: {module: rigid-100, arrangement: 10s50p}\n", HOME)
        [array] = circuit(text).arrays
        assert isinstance(next(m for m in array.tree.members if isinstance(m, Parallel)), Parallel)  # type: ignore[union-attr]


class TestSegments:
    def test_a_device_splits_its_pole_of_the_wire(self) -> None:
        found = circuit(edited(("distance: 10 cm", "distance: 25 cm")))
        lengths = [c.length for c in found.battery_side if c.name == "charge-run"]  # type: ignore[union-attr]
        assert lengths == pytest.approx([0.75, 0.25, 1.0])

    def test_without_a_distance_the_lengths_are_not_known(self) -> None:
        text = edited(("{charge-fuse: {from_end: to, distance: 10 cm}}", "charge-fuse"))
        found = circuit(text)
        lengths = [c.length for c in found.battery_side if c.name == "charge-run"]  # type: ignore[union-attr]
        assert lengths == [None, None, 1.0]

    def test_a_device_beyond_the_wire(self) -> None:
        [problem] = problems(edited(("distance: 10 cm", "distance: 3 m")))
        assert "within its length" in problem.message

    def test_a_two_pole_switch_breaks_both_poles(self) -> None:
        text = edited(
            ("place: [roof, cabin]}", "place: [roof, cabin], inline: [off]}"),
            ("fuses:\n", "switches:\n  off: {rating: 30 A, poles: 2, voltage: 200 V}\nfuses:\n"),
        )
        poles = [p.pole for p in circuit(text).elements if p.name == "off"]  # type: ignore[union-attr]
        assert poles == ["positive", "negative"]


class TestDrawnMistakes:
    def test_an_open_end(self) -> None:
        text = edited(
            ("to: house, cable", "to: house.positive, cable"),
            ("from: tracker.battery,", "from: tracker.battery.positive,"),
        )
        messages = [p.message for p in problems(text)]
        assert any("negative of `house` is an open end" in m for m in messages)
        assert any("negative of `tracker.battery` is an open end" in m for m in messages)

    def test_a_battery_whose_negative_has_a_bond_alone(self) -> None:
        """As in every car: engine and body bring the current back."""
        text = edited(
            ("wires:\n", "bonds:\n"
             "  tie: {from: start.negative, to: chassis, cable: batt-8, length: 50 cm}\n"
             "chargers:\n  engine: {kind: alternator, max_output_current: 60 A}\n"
             "wires:\n  plus: {from: engine, to: start, cable: batt-8, length: 1 m, "
             "pole: positive, place: cabin}\n"),
            ("batteries:\n", "batteries:\n"
             "  start: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}\n"),
        )  # fmt: skip
        assert circuit(text)
        assert not check_text(text).failed
        loose = text.replace(
            "from: start.negative, to: chassis", "from: house.negative, to: chassis"
        )
        assert [p.message for p in problems(loose)] == [
            "the negative of `start` is an open end: only its other pole is wired"
        ]

    def test_a_wire_whose_poles_contradict_leaves_no_open_end(self) -> None:
        """A link in series that names both, and tells one pole besides."""
        text = edited(
            ("  house: {", "  low: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, "
             "capacity: 100 Ah}\n  house: {"),
            ("wires:\n", "wires:\n  link: {from: low.positive, to: house.negative, "
             "pole: positive, cable: batt-8, length: 20 cm}\n"
             "  back: {from: tracker.battery.negative, to: low.negative, cable: batt-8, "
             "length: 1 m}\n"),
            ("from: tracker.battery, to: house,",
             "from: tracker.battery.positive, to: house.positive,"),
        )  # fmt: skip
        [problem] = problems(text)
        assert problem.message == "`pole: positive` contradicts `house.negative`"
        assert problem.instead == "leave `pole` out: `low.positive` and `house.negative` name both"

    def test_a_bond_is_no_way_back_for_a_load(self) -> None:
        text = edited(
            ("wires:\n", "loads:\n  lamp: {current: 2 A}\n"
             "bonds:\n  tie: {from: lamp.negative, to: chassis, cable: batt-8, length: 1 m}\n"
             "  main: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}\n"
             "wires:\n  plus: {from: house, to: lamp, cable: batt-8, length: 1 m, "
             "pole: positive}\n"),
        )  # fmt: skip
        [problem] = problems(text)
        assert "by a wire (`to: chassis`), not by a bond" in problem.instead

    def test_a_fuse_box_may_have_one_pole(self) -> None:
        text = edited(
            ("wires:\n", "distribution:\n  box: {ways: {lamp: {fuse: 5 A, style: blade}}}\n"
             "loads:\n  lamp: {current: 2 A}\n"
             "wires:\n  feed: {from: house, to: box, cable: batt-8, length: 1 m, "
             "pole: positive}\n"
             "  plus: {from: box.lamp, to: lamp, cable: batt-8, length: 1 m, pole: positive}\n"
             "  back: {from: lamp.negative, to: house.negative, cable: batt-8, length: 1 m}\n"),
        )  # fmt: skip
        assert circuit(text)
        back = "  back: {from: lamp.negative, to: house.negative, cable: batt-8, length: 1 m}\n"
        paired = text.replace(f", pole: positive}}\n{back}", "}\n")
        messages = [p.message for p in problems(paired)]
        assert messages == ["the negative of `lamp` leads to no battery: no current can flow"]

    def test_loads_that_lead_back_by_a_box_without_a_negative_are_one_problem(self) -> None:
        text = edited(
            ("wires:\n", "distribution:\n  box: {ways: {lamp: {fuse: 5 A}, pump: {fuse: 5 A}}}\n"
             "loads:\n  lamp: {current: 2 A}\n  pump: {current: 3 A}\n"
             "wires:\n  feed: {from: house.positive, to: box, cable: batt-8, length: 1 m}\n"
             "  lamp-run: {from: box.lamp, to: lamp, cable: batt-8, length: 1 m}\n"
             "  pump-run: {from: box.pump, to: pump, cable: batt-8, length: 1 m}\n"),
        )  # fmt: skip
        [problem] = problems(text)
        assert problem.message == (
            "the negative of `box`, by which `lamp` and `pump` lead back, leads to no battery: no "
            "current can flow"
        )
        back = (
            "wires:\n  back: {from: box.negative, to: house.negative, cable: batt-8, length: 1 m}\n"
        )
        assert circuit(text.replace("wires:\n", back))

    def test_a_component_without_a_wire(self) -> None:
        text = edited(("fuses:\n", "fuses:\n  spare: {rating: 10 A}\n"))
        found = circuit(text)
        assert [each.component.name for each in found.unused] == ["spare"]
        assert not any(getattr(e, "name", "") == "spare" for e in found.elements)

    def test_an_input_that_nothing_feeds(self) -> None:
        text = array_plan("  roof-string: {module: rigid-100}\n", "")
        [without] = [each for each in circuit(text).unused if each.end]
        assert (without.component.name, without.end) == ("tracker", "tracker.pv")

    def test_a_short_as_drawn(self) -> None:
        extra = "  oops: {from: house.positive, to: house.negative, cable: pv-10, length: 1 m}\n"
        text = edited(("wires:\n", "wires:\n" + extra))
        found = [p for p in problems(text) if "a short as drawn" in p.message]
        assert {p.hazard for p in found} == {"fire"}

    def test_a_short_across_the_array(self) -> None:
        extra = (
            "  oops: {from: roof-string.positive, to: roof-string.negative, cable: pv-10,"
            " length: 1 m}\n"
        )
        text = edited(("wires:\n", "wires:\n" + extra))
        found = [p for p in problems(text) if "short" in p.message]
        assert {p.hazard for p in found} == {""}

    @pytest.mark.parametrize("first", ["tracker", "other"])
    def test_an_array_at_two_controllers_is_one_problem(self, first: str) -> None:
        beside = "  other: {kind: mppt, max_input_voltage: 100 V, max_output_current: 10 A}\n"
        second = (
            "  again: {from: roof-string, to: other.pv, cable: pv-10, length: 1 m}\n"
            "  out: {from: other.battery, to: house, cable: pv-10, length: 1 m}\n"
        )
        at = "controllers:\n" if first == "other" else "batteries:\n"
        there = at + beside if first == "other" else beside + at
        text = edited((at, there), ("wires:\n", "wires:\n" + second))
        [problem] = problems(text)
        last = "other" if first == "tracker" else "tracker"
        assert problem.message == f"one array feeds both `{first}` and `{last}`"
        assert problem.instead.startswith("give each controller an array of its own, or take one")

    def test_poles_reversed_at_the_battery(self) -> None:
        run = (
            "  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, "
            "place: cabin,\n"
        )
        crossed = (
            "  minus: {from: tracker.battery.negative, to: house.positive, cable: batt-8,"
            " length: 1 m}\n"
            "  charge-run: {from: tracker.battery.positive, to: house.negative, cable: batt-8, "
            "length: 1 m, place: cabin,\n"
        )
        found = [p for p in problems(edited((run, crossed))) if "reversed" in p.message]
        assert {p.hazard for p in found} == {"fire"}

    def test_a_battery_reversed_against_the_one_beside_it(self) -> None:
        second = (
            "  other: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n"
            "wires:\n"
            "  c: {from: other.positive, to: house.negative, cable: batt-8, length: 1 m}\n"
            "  d: {from: other.negative, to: house.positive, cable: batt-8, length: 1 m}\n"
        )
        [problem] = problems(edited(("wires:\n", second)))
        assert problem.message == (
            "`house`, `other` are joined in a ring, plus to minus all around: a short as drawn"
        )
        assert problem.hazard == "fire"

    def test_loads_on_both_halves_of_a_bank_in_series(self) -> None:
        halves = (
            "  upper: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}\n"
            "loads:\n  lamp: {current: 2 A}\n  pump: {current: 2 A}\n"
            "wires:\n"
            "  c: {from: upper.negative, to: house.positive, cable: batt-8, length: 1 m}\n"
            "  d: {from: upper, to: lamp, cable: batt-8, length: 1 m}\n"
            "  e: {from: house, to: pump, cable: batt-8, length: 1 m}\n"
        )
        assert circuit(edited(("wires:\n", halves))).battery_side

    @pytest.mark.parametrize(
        ("fed", "hazard"),
        [("batteries: {x: {nominal: 12 V}}", "fire"), ("loads: {x: {nominal: 12 V}}", "")],
    )
    @pytest.mark.parametrize("regulated", ["true", "false"])
    def test_poles_of_modules_without_a_controller_reversed(
        self, fed: str, hazard: str, regulated: str
    ) -> None:
        """A lead that was marked the wrong way round grew hot at once."""
        text = f"""
wattproof: 1
setting: boat
datasheets: {{modules: {{m: {{pmax: 10 W, regulated: {regulated}}}}}}}
strings: {{one: {{module: m}}, two: {{module: m}}}}
{fed}
wires:
  plus: {{from: one.negative, to: x.positive, length: 1 m}}
  middle: {{from: one.positive, to: two.negative, length: 1 m}}
  minus: {{from: two.positive, to: x.negative, length: 1 m}}
"""
        found = [p for p in problems(text) if "poles are reversed" in p.message]
        assert [p.hazard for p in found] == [hazard] * 2

    @pytest.mark.parametrize(("isolated", "hazards"), [("false", ["fire"]), ("true", [])])
    def test_a_vehicle_charger_on_the_upper_half_of_a_bank(
        self, isolated: str, hazards: list[str]
    ) -> None:
        """Its two negatives are one inside, and the lower half lies between them."""
        text = f"""
wattproof: 1
setting: vehicle
batteries:
  start: {{nominal: 12 V}}
  lower: {{nominal: 12 V}}
  upper: {{nominal: 12 V}}
controllers: {{c: {{kind: vehicle-charger, max_output_current: 30 A, isolated: {isolated}}}}}
wires:
  s: {{from: start, to: c.alternator, length: 1 m}}
  o: {{from: c.battery, to: upper, length: 1 m}}
  l: {{from: lower.positive, to: upper.negative, length: 1 m}}
  n: {{from: start.negative, to: lower.negative, length: 1 m}}
"""
        found = problems(text) if hazards else []
        assert [p.hazard for p in found if "inside `c`" in p.message] == hazards
        if not hazards:
            circuit(text)

    def test_modules_on_both_halves_of_a_bank_in_series(self) -> None:
        text = """
wattproof: 1
setting: boat
datasheets: {modules: {m: {pmax: 10 W}}}
strings: {one: {module: m}, two: {module: m}}
batteries: {lower: {nominal: 12 V}, upper: {nominal: 12 V}}
wires:
  link: {from: lower.positive, to: upper.negative, length: 1 m}
  a: {from: one, to: lower, length: 1 m}
  b: {from: two, to: upper, length: 1 m}
"""
        assert circuit(text).uncontrolled

    def test_poles_reversed_at_the_solar_input(self) -> None:
        text = array_plan(
            "  s: {module: rigid-100}\n",
            "  a: {from: s.positive, to: tracker.pv.negative, cable: pv-10, length: 1 m}\n"
            "  b: {from: s.negative, to: tracker.pv.positive, cable: pv-10, length: 1 m}\n",
        )
        [problem] = problems(text)
        assert "reversed at `tracker.pv`" in problem.message

    @pytest.mark.parametrize(("beside", "hazard"), [("s", ""), ("s, r", "fire")])
    def test_one_string_reversed_against_the_others(self, beside: str, hazard: str) -> None:
        """One beside it drives no more through it than its own diodes are made for."""
        names = beside.split(", ")
        text = array_plan(
            "".join(f"  {name}: {{module: rigid-100}}\n" for name in [*names, "t"]),
            "".join(
                f"  {name}-lead: {{from: {name}, to: joint, cable: pv-10, length: 1 m}}\n"
                for name in names
            )
            + "  b: {from: t.positive, to: joint.negative, cable: pv-10, length: 1 m}\n"
            "  c: {from: t.negative, to: joint.positive, cable: pv-10, length: 1 m}\n" + HOME,
            "  joint: {}\n",
        )
        [problem] = problems(text)
        assert problem.message == "the poles of `t` are reversed against the other strings"
        assert problem.hazard == hazard

    def test_unlike_nominal_voltages_joined(self) -> None:
        text = edited(
            (
                "batteries:\n",
                "batteries:\n  other: {chemistry: agm, nominal: 24 V, capacity: 9 Ah}\n",
            ),
            ("wires:\n", "wires:\n  tie: {from: house, to: other, cable: batt-8, length: 1 m}\n"),
        )
        [problem] = problems(text)
        assert "unlike nominal voltages" in problem.message
        assert problem.hazard == "fire"

    def test_batteries_side_by_side_that_fit_in_series_are_told_to_be_joined_so(self) -> None:
        """Plus to plus in place of plus to minus, under a motor for both in series."""
        two = edited(
            (
                "batteries:\n",
                "batteries:\n  other: {chemistry: agm, nominal: 12 V, capacity: 9 Ah}\n",
            ),
            (
                "wires:\n",
                "loads:\n  motor: {nominal: 24 V, current: 9 A}\nwires:\n"
                "  jumper: {from: other.positive, to: house.POLE, cable: batt-8, length: 1 m}\n"
                "  plus: {from: house.positive, to: motor.positive, cable: batt-8, length: 1 m}\n"
                "  minus: {from: other.negative, to: motor.negative, cable: batt-8, length: 1 m}\n",
            ),
        )
        [wrong] = circuit(two.replace("POLE", "positive")).unlike
        assert (wrong.component.name, wrong.bank.name, wrong.volts) == ("motor", "other", 12.0)
        assert "`house` and `other` are to be in series, lead the positive" in wrong.instead
        circuit(two.replace("POLE", "negative"))  # as it is meant

    def test_two_batteries_in_series_are_no_mismatch(self) -> None:
        text = edited(
            (
                "batteries:\n",
                "batteries:\n  second: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, "
                "capacity: 100 Ah}\n",
            ),
            ("from: tracker.battery, to: house,", "from: tracker.battery.positive, to: house,"),
            (
                "wires:\n",
                "wires:\n"
                "  link: {from: house.negative, to: second.positive, cable: batt-8, length: 1 m}\n"
                "  return: {from: second.negative, to: tracker.battery.negative, cable: batt-8, "
                "length: 1 m}\n",
            ),
        )
        assert circuit(text).arrays

    def test_an_array_joined_to_the_battery(self) -> None:
        extra = "  tie: {from: roof-string, to: house, cable: pv-10, length: 1 m}\n"
        found = problems(edited(("wires:\n", "wires:\n" + extra)))
        assert {p.hazard for p in found if "past the controller" in p.message} == {"fire"}

    def test_a_joint_that_does_not_list_what_a_wire_brings(self) -> None:
        text = array_plan(
            "  s: {module: rigid-100}\n  t: {module: rigid-100}\n",
            "  a: {from: s, to: joint, cable: pv-10, length: 1 m}\n"
            "  b: {from: t, to: joint, cable: pv-10, length: 1 m}\n" + HOME,
            "  joint: {joins: [s]}\n",
        )
        [problem] = problems(text)
        assert problem.instead == "write `joins: [s, t]`"

    def test_a_bridge_is_no_series_and_parallel(self) -> None:
        strings = "".join(f"  {n}: {{module: rigid-100}}\n" for n in ("a", "b", "c", "d"))
        wires = (
            "  w1: {from: a.positive, to: x, pole: positive, cable: pv-10, length: 1 m}\n"
            "  w2: {from: b.positive, to: y, pole: positive, cable: pv-10, length: 1 m}\n"
            "  w3: {from: c.negative, to: x.positive, cable: pv-10, length: 1 m}\n"
            "  w4: {from: d.negative, to: y.positive, cable: pv-10, length: 1 m}\n"
            "  w5: {from: x.positive, to: y.positive, cable: pv-10, length: 1 m}\n"
            "  p1: {from: c.positive, to: tracker.pv.positive, cable: pv-10, length: 1 m}\n"
            "  p2: {from: d.positive, to: tracker.pv.positive, cable: pv-10, length: 1 m}\n"
            "  n1: {from: a.negative, to: tracker.pv.negative, cable: pv-10, length: 1 m}\n"
            "  n2: {from: b.negative, to: tracker.pv.negative, cable: pv-10, length: 1 m}\n"
        )
        text = array_plan(strings, wires).replace(
            "controllers:\n", "busbars:\n  x: {}\n  y: {}\ncontrollers:\n", 1
        )
        assert any("bridge" in p.message for p in problems(text))


@pytest.mark.parametrize(
    ("volts", "nominal"),
    [(12, 12), (12.8, 12), (24, 24), (25.6, 24), (48, 48), (51.2, 48), (36, 36), (18, None)],
)
def test_nominal_classes(volts: float, nominal: float | None) -> None:
    """Common practice: a pack is named by its cells, a system by 12, 24, 36 or 48 V."""
    assert nominal_class(volts) == nominal


BATTERY_LINE = "          max_charge_current: 50 A, max_charge_voltage: 14.6 V}\n"


class TestPastTheController:
    def test_a_string_on_the_battery(self) -> None:
        second = (
            "strings:\n",
            "strings:\n  bare: {module: rigid-100}\n",
        )
        wire = (
            "wires:\n",
            "wires:\n  bare-run: {from: bare, to: house, cable: pv-10, length: 1 m}\n",
        )
        [found] = circuit(edited(second, wire)).uncontrolled
        assert (found.string.name, found.fed.name) == ("bare", "house")
        regulated = ("max_system_voltage: 600 V}", "max_system_voltage: 600 V, regulated: true}")
        assert not circuit(edited(second, wire, regulated)).uncontrolled

    def test_one_tracker_that_feeds_another(self) -> None:
        second = (
            "controllers:\n",
            "controllers:\n  second: {kind: mppt, max_input_voltage: 50 V, "
            "max_output_current: 10 A}\n",
        )
        wires = (
            ("from: tracker.battery, to: house", "from: second.battery, to: house"),
            (
                "wires:\n",
                "wires:\n  on: {from: tracker.battery, to: second.pv, cable: pv-10, length: 1 m}\n",
            ),
        )
        [problem] = problems(edited(second, *wires))
        assert problem.message == (
            "`tracker` feeds `second`: the output of one controller lead to the solar input of "
            "another"
        )

    @pytest.mark.parametrize(
        ("declared", "name"),
        [
            ("chargers:\n  mains: {kind: shore, max_output_current: 20 A}\n", "mains"),
            ("batteries:\n  start: {chemistry: agm, nominal: 12 V, capacity: 90 Ah}\n", "start"),
        ],
    )
    def test_what_feeds_load_terminals(self, declared: str, name: str) -> None:
        family = declared.split("\n")[0] + "\n"
        edit = (
            ("batteries:\n", declared)
            if family == "batteries:\n"
            else ("batteries:\n", f"{declared}batteries:\n")
        )
        wire = f"  feed: {{from: tracker.load, to: {name}, cable: pv-10, length: 1 m}}\n"
        plan = edited(edit, ("wires:\n", f"wires:\n{wire}"))
        [problem] = problems(plan)
        assert problem.message == f"`tracker.load` is an outlet, and `{name}` feeds it"
        shared = plan.replace("blocks_reverse: true", "blocks_reverse: true, common: positive")
        assert circuit(shared).arrays

    def test_load_terminals_joined_to_the_battery(self) -> None:
        wire = "  back: {from: tracker.load, to: house, cable: pv-10, length: 1 m}\n"
        [problem] = problems(edited(("wires:\n", f"wires:\n{wire}")))
        assert problem.instead.startswith("lead `house` to `tracker.battery` instead")

    BYPASS = (
        "  out: {from: tracker.load.positive, to: past.1, cable: pv-10, length: 1 m}\n"
        "  around: {from: house.positive, to: past.2, cable: pv-10, length: 1 m}\n"
        "  on: {from: past.common, to: lamp.positive, cable: pv-10, length: 1 m}\n"
        "  back: {from: lamp.negative, to: house.negative, cable: pv-10, length: 1 m}\n"
    )

    def test_a_selector_leads_loads_past_the_load_terminals(self) -> None:
        """The battery stands on the other side; with a position for both it would feed them."""
        more = "selectors:\n  past: {rating: 20 A, both: false}\nloads:\n  lamp: {current: 2 A}\n"
        plan = edited(("wires:\n", f"{more}wires:\n{self.BYPASS}"))
        assert circuit(plan).arrays
        [problem] = problems(plan.replace(", both: false", ""))
        assert "`house` feeds it" in problem.message

    def test_a_switch_past_the_load_terminals_is_told_as_a_selector(self) -> None:
        past = "from: tracker.load, to: house, cable: pv-10, length: 1 m, inline: [past]"
        plan = edited(
            ("wires:\n", f"switches:\n  past: {{rating: 20 A}}\nwires:\n  past-run: {{{past}}}\n")
        )
        [problem] = problems(plan)
        assert "write a selector with `both: false`" in problem.instead


class TestGround:
    @pytest.mark.parametrize("ground", ["chassis", "water", "earth"])
    def test_both_poles_tied_to_it(self, ground: str) -> None:
        plan = edited(
            (
                "wires:\n",
                "bonds:\n"
                f"  plus: {{from: house.positive, to: {ground}, cable: batt-8}}\n"
                f"  minus: {{from: house.negative, to: {ground}, cable: batt-8}}\nwires:\n",
            )
        )
        [problem] = problems(plan)
        assert problem.message == (
            "`plus` ties the positive of `house` to the ground that `minus` ties its negative to: "
            "a short as drawn"
        )
        assert circuit(plan.replace("house.positive", "tracker.battery.negative")).arrays

    def test_a_bond_and_a_wire_to_the_hull(self) -> None:
        plan = edited(
            (
                "wires:\n",
                "wires:\n  hull: {from: house, to: chassis, cable: batt-8, length: 1 m}\n",
            ),
            (
                "wires:\n",
                "bonds:\n  plus: {from: house.positive, to: water, cable: batt-8}\nwires:\n",
            ),
        ).replace("from: house, to: chassis", "from: house.negative, to: chassis")
        [problem] = problems(plan)
        assert "a short as drawn" in problem.message


class TestBatteriesInSeries:
    def chain(self, *packs: str, wires: str, more: str = "") -> str:
        """The base plan on batteries of 12.8 V joined by single wires."""
        label = "chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah"
        banks = "".join(f"  {name}: {{{label}}}\n" for name in packs)
        return edited(
            (
                "  house: {chemistry: lithium-iron-phosphate, nominal: 12.8 V, capacity: 100 Ah,\n"
                + BATTERY_LINE,
                banks,
            ),
            ("to: house,", "to: bar,"),
            ("wires:\n", f"busbars:\n  bar: {{}}\n{more}wires:\n{wires}"),
        )

    def wires(self, *joints: tuple[str, str]) -> str:
        return "".join(
            f"  j{n}: {{from: {a}, to: {b}, cable: batt-8, length: 1 m}}\n"
            for n, (a, b) in enumerate(joints)
        )

    def test_unlike_numbers_side_by_side(self) -> None:
        joints = [
            ("a.negative", "bar.negative"),
            ("a.positive", "b.negative"),
            ("b.positive", "bar.positive"),
            ("c.negative", "bar.negative"),
            ("c.positive", "bar.positive"),
        ]
        [problem] = problems(self.chain("a", "b", "c", wires=self.wires(*joints)))
        assert "unlike voltages in parallel" in problem.message

    @pytest.mark.parametrize("first", ["a", "b", "c", "d"])
    def test_series_of_lead_beside_series_of_lithium_are_of_one_voltage(self, first: str) -> None:
        """Whether they may be joined is another question; 48 V and 51.2 V are one class."""
        lithium, lead = ["a", "b", "c", "d"], ["e", "f", "g", "h"]
        joints = []
        for series in (lithium, lead):
            joints += [(f"{m}.positive", f"{n}.negative") for m, n in pairwise(series)]
            joints += [(f"{series[0]}.negative", "bar.negative")]
            joints += [(f"{series[-1]}.positive", "bar.positive")]
        order = [first, *(n for n in lithium + lead if n != first)]
        plan = self.chain(*order, wires=self.wires(*joints))
        old = "lithium-iron-phosphate, nominal: 12.8 V"
        for name in lead:
            own = f"  {name}: {{chemistry: "
            plan = plan.replace(own + old, f"{own}agm, nominal: 12 V")
        assert circuit(plan).arrays

    @pytest.mark.parametrize("turned", [False, True])
    @pytest.mark.parametrize("devices", [["link-fuse"], ["link-fuse", "link-off"]])
    def test_a_fuse_between_two_wires_from_one_to_the_next(
        self, devices: list[str], *, turned: bool
    ) -> None:
        """It stood at both poles of itself, and was told as a short or an open end."""
        ends = ["a.positive", *devices, "b.negative"]
        way = list(pairwise(reversed(ends) if turned else ends))
        joints = [("a.negative", "bar.negative"), *way, ("b.positive", "bar.positive")]
        family = "fuses:\n  link-fuse: {rating: 100 A}\n"
        own = "switches:\n  link-off: {rating: 100 A}\n" if len(devices) > 1 else ""
        plan = self.chain("a", "b", wires=self.wires(*joints), more=own)
        assert circuit(plan.replace("fuses:\n", family)).arrays

    def test_a_fuse_behind_which_the_poles_are_exchanged(self) -> None:
        """It was told as an open end, which another name of its side would have hidden."""
        edit = (
            "  charge-run: {from: tracker.battery, to: house, cable: batt-8, length: 1 m, place: "
            "cabin,\n               inline: [{charge-fuse: {from_end: to, distance: 10 cm}}]}\n",
            self.wires(
                ("tracker.battery.positive", "charge-fuse"),
                ("charge-fuse", "house.negative"),
                ("tracker.battery.negative", "house.positive"),
            ),
        )
        [problem] = problems(edited(edit))
        assert problem.message.startswith("the poles are reversed at")
        assert problem.hazard == "fire"

    def test_an_inverter_across_them(self) -> None:
        joints = [
            ("a.negative", "bar.negative"),
            ("a.positive", "b.negative"),
            ("b.positive", "bar.positive"),
            ("bar.positive", "inv.positive"),
            ("bar.negative", "inv.negative"),
        ]
        inverter = "inverters:\n  inv: {power: 300 W, nominal: 12 V}\n"
        plan = self.chain("a", "b", wires=self.wires(*joints), more=inverter)
        [unlike] = circuit(plan).unlike
        assert (unlike.component.name, unlike.volts) == ("inv", 25.6)
        assert not circuit(plan.replace("300 W, nominal: 12 V", "300 W, nominal: 24 V")).unlike

    def test_two_inverters_across_them(self) -> None:
        """Nothing agrees with the batteries, so they may be what is told wrongly."""
        joints = [
            ("a.negative", "bar.negative"),
            ("a.positive", "b.negative"),
            ("b.positive", "bar.positive"),
            ("bar.positive", "inv.positive"),
            ("bar.negative", "inv.negative"),
            ("bar.positive", "lamp.positive"),
            ("bar.negative", "lamp.negative"),
        ]
        more = "inverters:\n  inv: {power: 300 W, nominal: 12 V}\n"
        more += "loads:\n  lamp: {current: 1 A, nominal: 12 V}\n"
        told = problems(self.chain("a", "b", wires=self.wires(*joints), more=more))
        assert [p.message for p in told] == [
            f"`{name}` (12 V) lies across batteries in series of 25.6 V together: unlike nominal "
            "voltages"
            for name in ("inv", "lamp")
        ]


def test_a_joint_that_names_a_string_twice() -> None:
    strings = "  a: {module: rigid-100}\n  b: {module: rigid-100}\n"
    plan = array_plan(strings, HOME, "  joint: {joins: [a, a, b], rating: 30 A}\n")
    [problem] = problems(plan)
    assert problem.message == "`joint` names `a` twice"
    assert plan.splitlines()[problem.place.line - 1][problem.place.column - 1 :].startswith("a, b]")


@pytest.mark.parametrize(
    ("to", "where"), [("water", "only to the water"), ("loose", "to no battery")]
)
def test_a_load_whose_negative_leads_back_to_no_battery(to: str, where: str) -> None:
    plan = edited(
        (
            "wires:\n",
            "busbars:\n  loose: {}\nloads:\n  pump: {current: 2 A}\nwires:\n"
            "  feed: {from: house.positive, to: pump.positive, cable: batt-8, length: 1 m}\n"
            "  stray: {from: house.negative, to: loose.negative, cable: batt-8, length: 1 m}\n"
            f"  back: {{from: pump.negative, to: {to}, cable: batt-8, length: 1 m}}\n",
        )
    )
    if to == "loose":
        assert circuit(plan).arrays
        plan = edited(
            (
                "  stray: {from: house.negative, to: loose.negative, cable: batt-8, length: 1 m}\n",
                "",
            ),
            plan=plan,
        )
    [problem] = problems(plan)
    assert f"the negative of `pump` leads {where}" in problem.message
    if to == "water":
        tie = "bonds:\n  hull: {from: house.negative, to: water, cable: batt-8}\nwires:\n"
        assert circuit(edited(("wires:\n", tie), plan=plan)).arrays


def test_a_joint_of_one_pole_may_join_the_fuses_of_strings() -> None:
    wires = "  plus: {from: joint.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m}\n"
    for n in "ab":
        wires += (
            f"  {n}-lead: {{from: {n}.positive, to: {n}-fuse, cable: pv-10, length: 1 m}}\n"
            f"  {n}-back: {{from: {n}.negative, to: tracker.pv.negative, cable: pv-10,\n"
            "           length: 1 m}\n"
        )
    strings = "".join(f"  {n}: {{module: rigid-100, series: 3}}\n" for n in "ab")
    fuses = "fuses:\n  a-fuse: {rating: 10 A}\n  b-fuse: {rating: 10 A}\n"
    text = array_plan(strings, wires, "  joint: {joins: [a-fuse, b-fuse]}\n")
    [array] = circuit(text.replace("fuses:\n", fuses)).arrays
    passed = [e.name for leaf in leaves(array.tree) if isinstance(e := leaf.element, Passage)]
    assert sorted(passed) == ["a-fuse", "b-fuse"]


class TestSidesOfDevices:
    """A device is named from its two sides, whichever way the wires are drawn."""

    STRINGS = "".join(f"  {n}: {{module: rigid-100, series: 3}}\n" for n in "abcd")
    FUSES = "fuses:\n" + "".join(f"  {n}-fuse: {{rating: 7 A, dc: true}}\n" for n in "abcd")

    def plan(self, wire: str, listed: str) -> str:
        """Four strings whose fuses stand between their wires and the joint."""
        wires = "".join(wire.replace("NAME", n) for n in "abcd")
        joint = f"  joint: {{joins: [{', '.join(listed.replace('NAME', n) for n in 'abcd')}]}}\n"
        text = array_plan(self.STRINGS, wires + HOME, joint)
        assert text.count("fuses:\n") == 1
        return text.replace("fuses:\n", self.FUSES)

    def inline(self) -> str:
        wire = (
            "  NAME-lead: {from: NAME, to: joint, cable: pv-10, length: 2 m, inline: [NAME-fuse]}\n"
        )
        return self.plan(wire, "NAME")

    @pytest.mark.parametrize(
        ("wire", "listed"),
        [
            ("  NAME-lead: {from: NAME, to: NAME-fuse, cable: pv-10, length: 2 m}\n", "NAME-fuse"),
            ("  NAME-lead: {from: NAME-fuse, to: NAME, cable: pv-10, length: 2 m}\n", "NAME-fuse"),
            (
                "  NAME-lead: {from: NAME, to: NAME-fuse.load, cable: pv-10, length: 2 m}\n",
                "NAME-fuse",
            ),
            (
                "  NAME-lead: {from: NAME, to: NAME-fuse, cable: pv-10, length: 2 m}\n",
                "NAME-fuse.load",
            ),
        ],
    )
    def test_a_fuse_that_a_joint_lists_lies_between_the_wire_and_the_joint(
        self, wire: str, listed: str
    ) -> None:
        beside = check_text(self.plan(wire, listed))
        assert not beside.problems
        fuses = [f for f in beside.findings if f.rule.startswith("string-fuse")]
        inline = [f for f in check_text(self.inline()).findings if f.rule.startswith("string-fuse")]
        assert [(f.rule, f.level, f.message) for f in fuses] == [
            (f.rule, f.level, f.message) for f in inline
        ]
        assert {f.rule for f in fuses} == {"string-fuse-too-small"}

    def test_without_them_it_is_missed(self) -> None:
        bare = self.plan(
            "  NAME-lead: {from: NAME, to: joint, cable: pv-10, length: 2 m}\n", "NAME"
        )
        assert "string-fuse-missing" in {f.rule for f in check_text(bare).findings}

    def test_two_joints_and_a_fuse_between_them(self) -> None:
        joints = "  inner: {joins: [a, b]}\n  joint: {joins: [inner-fuse, c, d]}\n"
        wires = "  in: {from: inner, to: inner-fuse, cable: pv-10, length: 2 m}\n" + HOME
        text = array_plan(self.STRINGS, wires, joints).replace(
            "fuses:\n", "fuses:\n  inner-fuse: {rating: 20 A}\n"
        )
        assert shape(circuit(text).arrays[0].tree) == "[3|3|[3|3]]"

    @pytest.mark.parametrize("drawn", ["from: spare, to: house", "from: house, to: spare"])
    def test_two_wires_that_are_drawn_towards_a_fuse_or_away_from_it(self, drawn: str) -> None:
        load = "loads:\n  pump: {current: 5 A}\n"
        start = drawn.replace("house", "pump")
        wires = (
            f"  one: {{{drawn}, cable: batt-8, length: 10 cm}}\n"
            f"  two: {{{start}, cable: batt-8, length: 1 m}}\n"
        )
        text = edited(
            ("fuses:\n", "fuses:\n  spare: {rating: 10 A}\n"),
            ("batteries:\n", load + "batteries:\n"),
            ("wires:\n", "wires:\n" + wires),
        )
        assert "battery-fuse-missing" not in {
            f.rule for f in check_text(text).findings if "pump" in f.subjects
        }
        assert not check_text(text).problems

    def test_two_wires_from_one_part_leave_its_other_side_open(self) -> None:
        wires = "".join(
            f"  {n}: {{from: house, to: spare, cable: batt-8, length: 1 m}}\n" for n in "xy"
        )
        text = edited(
            ("fuses:\n", "fuses:\n  spare: {rating: 10 A}\n"), ("wires:\n", "wires:\n" + wires)
        )
        assert [problem.message for problem in problems(text)] == [
            "`spare.load` is an open end: no wire leads to it"
        ]

    @pytest.mark.parametrize(
        ("drawn", "side"), [("from: {}, to: {}", "line"), ("to: {}, from: {}", "load")]
    )
    def test_wires_that_are_all_drawn_to_one_side_are_told_which_of_them_is_on_the_other(
        self, drawn: str, side: str
    ) -> None:
        """A fuse at a battery, from which three wires are drawn: that of the battery is told."""
        ends = ("house.positive", "pump.positive", "fan.positive")
        wires = "".join(
            f"  {end.partition('.')[0]}-lead: {{{drawn.format('spare', end)}, cable: batt-8, "
            "length: 1 m}\n"
            for end in ends
        )
        wires += "".join(
            f"  {end}-back: {{from: house.negative, to: {end}.negative, cable: batt-8, "
            "length: 1 m}\n"
            for end in ("pump", "fan")
        )
        text = edited(
            ("fuses:\n", "fuses:\n  spare: {rating: 10 A}\n"),
            ("batteries:\n", "loads:\n  pump: {current: 5 A}\n  fan: {current: 2 A}\nbatteries:\n"),
            ("wires:\n", "wires:\n" + wires),
        )
        [problem] = problems(text)
        assert problem.message == f"`spare.{side}` is an open end: no wire leads to it"
        assert problem.instead == (
            f"write `spare.{side}` in place of `spare` in `house-lead`, which is on its other side"
        )
        told = text.replace(
            drawn.format("spare", "house."), drawn.format(f"spare.{side}", "house.")
        )
        assert not check_text(told).problems

    def test_which_way_round_a_polarised_breaker_is_mounted_has_to_be_told(self) -> None:
        wires = (
            "  one: {from: house, to: spare, cable: batt-8, length: 10 cm}\n"
            "  two: {from: pump, to: spare, cable: batt-8, length: 1 m}\n"
        )
        text = edited(
            ("fuses:\n", "breakers:\n  spare: {rating: 10 A, polarised: true}\nfuses:\n"),
            ("batteries:\n", "loads:\n  pump: {current: 5 A}\nbatteries:\n"),
            ("wires:\n", "wires:\n" + wires),
        )
        [problem] = problems(text)
        assert problem.instead.startswith("name its sides, `spare.line` and `spare.load`")
        assert circuit(text.replace("two: {from: pump, to: spare,", "two: {from: spare, to: pump,"))


def test_what_charges_a_battery_far_past_full_can_start_a_fire() -> None:
    """6 V under a tracker that is set to 14.2 V, beside two loads; only these were told."""
    lamps = "loads:\n  lamp: {current: 2 A, nominal: 12 V}\n  fan: {current: 2 A, nominal: 12 V}\n"
    wires = "  lamp-run: {from: house, to: lamp, cable: batt-8, length: 1 m}\n"
    wires += "  fan-run: {from: house, to: fan, cable: batt-8, length: 1 m}\n"
    plan = edited(("wires:\n", f"{lamps}wires:\n{wires}"), ("nominal: 12.8 V", "nominal: 6.4 V"))
    told = problems(plan)
    assert all("unlike nominal" in problem.message for problem in told)
    assert [problem.hazard for problem in told] == ["fire", ""]


@pytest.mark.parametrize("wire", ["from: box.load, to: lamp", "from: lamp, to: box.load"])
def test_a_load_turned_at_an_outlet_is_told_at_the_load(wire: str) -> None:
    """Drawn from the load it was told at the outlet, as what can start a fire."""
    start, to = (part.split(": ")[1] for part in wire.split(", "))
    ways = [("positive", "negative"), ("negative", "positive")]
    runs = "".join(
        f"  {a}: {{from: {start}.{a}, to: {to}.{b}, cable: batt-8, length: 1 m}}\n" for a, b in ways
    )
    plan = edited(
        ("wires:\n", "power_boxes:\n  box: {max_input_voltage: 60 V}\nloads:\n"
         f"  lamp: {{current: 2 A}}\nwires:\n{runs}"),
    )  # fmt: skip
    turned = [p for p in problems(plan) if "reversed" in p.message]
    assert [(p.message.split("`")[1], p.hazard) for p in turned] == [("lamp", "")]
