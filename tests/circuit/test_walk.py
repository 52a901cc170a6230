"""The one walk over a graph, groups of what is joined, and what references lead to."""

from __future__ import annotations

from collections.abc import Iterator

from plans import edited
from wattproof.circuit import Terminal, build_circuit
from wattproof.circuit.groups import Groups
from wattproof.circuit.walk import Walk, cheapest, parted, reached, steps
from wattproof.plan import load_plan

#      b --2-- d
#    1/         \5
#   a            f      g --7-- h
#    3\         /6
#      c --4-- e
EDGES = ["ab1", "ac3", "bd2", "ce4", "df5", "ef6", "gh7"]


def ways(here: str) -> Iterator[tuple[str, str]]:
    for one, other, way in EDGES:
        if here in (one, other):
            yield way, other if here == one else one


def test_a_walk_reaches_each_node_once_and_the_nearest_first() -> None:
    assert list(Walk("a", ways)) == ["a", "b", "c", "d", "e", "f"]
    assert list(Walk("fa", ways)) == ["f", "a", "d", "e", "b", "c"]
    assert "g" not in Walk("a", ways)
    assert reached(["g"], lambda node: (there for _, there in ways(node))) == {"g", "h"}


def test_a_walk_tells_what_was_passed_by_the_way_named_first_of_equals() -> None:
    walk = Walk("a", ways)
    assert walk.passed("f") == ["1", "2", "5"]
    assert walk.passed("a") == walk.passed("g") == []
    assert walk.last("a") is None
    last = walk.last("f")
    assert last is not None
    assert (last.here, last.way, last.there) == ("d", "5", "f")


def test_a_walk_hands_on_what_each_step_makes_of_it() -> None:
    walk = Walk("ag", ways)
    assert walk.carried(0, lambda away, _: away + 1)["f"] == 3
    names = walk.carried("", lambda names, step: names + step.here)
    assert (names["f"], names["h"], names["g"]) == ("abd", "g", "")


def test_steps_tell_every_way_from_either_side_and_which_was_the_first() -> None:
    tried = list(steps("a", ways))
    assert len(tried) == 2 * 6
    assert [step.there for step in tried if step.first] == ["b", "c", "d", "e", "f"]


def test_a_deep_walk_follows_one_branch_to_its_end() -> None:
    assert [s.there for s in steps("a", ways, deep=True) if s.first] == ["b", "c", "e", "f", "d"]


def test_of_two_that_are_parted_the_smaller_side_is_told() -> None:
    assert parted("a", "g", ways) == ("g", {"g", "h"})
    assert parted("h", "f", ways) == ("h", {"g", "h"})
    assert parted("a", "f", ways) is None
    assert parted("a", "a", ways) is None


def test_the_cheapest_way_need_not_be_the_shortest() -> None:
    edges = {"s": [(9.0, "t"), (1.0, "u")], "u": [(2.0, "v")], "v": [(3.0, "t")], "t": []}
    assert cheapest("s", "t", lambda node: edges[node], lambda way: way) == [1.0, 2.0, 3.0]
    assert cheapest("s", "t", lambda node: edges[node], lambda way: 1.0) == [9.0]
    assert cheapest("s", "s", lambda node: edges[node], lambda way: way) == []
    assert cheapest("t", "s", lambda node: edges[node], lambda way: way) is None


def test_groups_join_one_way_or_another() -> None:
    groups: Groups[str] = Groups({"x": "y"})
    assert groups.join("a", "b")
    assert groups.join("b", "c")
    assert not groups.join("c", "a")
    assert groups.of("a") == groups.of("b") == "c"
    assert groups.of("x") == groups.of("y") == "y"
    assert groups.of("alone") == "alone"
    assert set(groups) == {"a", "b", "c", "x", "y", "alone"}


def test_what_references_lead_to_is_resolved_once() -> None:
    bond = "  charge-run: {from: tracker.battery, to: house, cable: batt-8"
    text = edited((bond, f"{bond}, pole: positive"))
    text += (
        "  back: {from: tracker.battery.negative, to: house.negative, cable: batt-8, length: 1 m}\n"
    )
    text += "bonds:\n  tie: {from: house, to: chassis, cable: batt-8}\n"
    text += "readings:\n  noon: {at: tracker.pv, voltage: 60 V}\n"
    plan = load_plan("plan.yaml", text=text)
    ends = build_circuit(plan).ends
    start, to, poles = ends.of_wire(plan.wires["charge-run"])
    assert (start.component, start.port, to.component, to.port) == (
        "tracker",
        "battery",
        "house",
        "",
    )
    assert poles == (("positive", "positive"),)
    assert ends.of_wire(plan.wires["home-run"]).poles == (
        ("positive", "positive"),
        ("negative", "negative"),
    )
    assert ends.bonds == {"tie": Terminal("house", "", "negative")}
    assert ends.readings["noon"][:2] == ("tracker", "pv")
    assert ends.components["house"] is plan.batteries["house"]
    assert plan.wires["home-run"].components == ("roof-string", "tracker")
