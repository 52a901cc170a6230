"""Branch connectors: joints of which one joins the positives of strings, another the negatives."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found
from wattproof.circuit import Parallel, build_circuit
from wattproof.plan import load_plan
from wattproof.source import PlanUnusable
from wattproof.testing import study_of

TWO = (
    "  roof-string: {module: rigid-100, series: 3, mounting: roof-gap}\n",
    "  one: {module: rigid-100, series: 3, mounting: roof-gap}\n"
    "  two: {module: rigid-100, series: 3, mounting: roof-gap}\n",
)
HOME = (
    "  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, "
    "length: 4 m, place: [roof, cabin]}\n"
)
ON = (
    "  plus-run: {from: y-plus, to: tracker.pv.positive, cable: pv-10, length: 4 m}\n"
    "  minus-run: {from: y-minus, to: tracker.pv.negative, cable: pv-10, length: 4 m}\n"
)
LEADS = "".join(
    f"  {name}-{pole}: {{from: {name}FROM-{pole}, to: y-{pole}, cable: pv-10, length: 1 m}}\n"
    for name in ("one", "two")
    for pole in ("plus", "minus")
)
NAMED = LEADS.replace("FROM-plus", ".positive").replace("FROM-minus", ".negative")
WHOLE = LEADS.replace("FROM-plus", "").replace("FROM-minus", "")


def branched(joints: str, wires: str = "") -> str:
    return edited(TWO, (HOME, ON + wires), ("wires:\n", f"combiners:\n{joints}wires:\n"))


@pytest.mark.parametrize(
    ("joints", "wires"),
    [
        ("  y-plus: {joins: [one.positive, two.positive]}\n"
         "  y-minus: {joins: [one.negative, two.negative]}\n", ""),
        ("  y-plus: {joins: [one, two]}\n  y-minus: {joins: [one, two]}\n", ""),
        ("  y-plus: {rating: 30 A}\n  y-minus: {rating: 30 A}\n", NAMED),
        ("  y-plus: {rating: 30 A}\n  y-minus: {rating: 30 A}\n", WHOLE),
    ],
    ids=["poles listed", "strings listed", "poles wired", "strings wired"],
)  # fmt: skip
def test_strings_meet_at_a_branch_for_each_pole(joints: str, wires: str) -> None:
    [array] = build_circuit(load_plan("plan.yaml", text=branched(joints, wires))).arrays
    study = study_of(branched(joints, wires)).array.arrays[0]
    assert len(study.all_strings) == 2
    assert study.isc("standard").number == pytest.approx(10.4)
    assert study.voc("standard").number == pytest.approx(72.9)
    tree = array.tree
    if not isinstance(tree, Parallel):  # behind the wires from the branches to the controller
        [tree] = [member for member in tree.members if isinstance(member, Parallel)]
    assert {tree.negative.component, tree.positive.component} == {"y-minus", "y-plus"}


@pytest.mark.parametrize("weak", ["y-plus", "y-minus"])
def test_each_of_both_branches_carries_the_whole(weak: str) -> None:
    """13 A in bright sun, 1.25 times the short-circuit currents, through one plug of 10 A."""
    joints = "".join(f"  y-{p}: {{joins: [one, two], rating: 30 A}}\n" for p in ("plus", "minus"))
    at = joints.index("30 A", joints.index(weak))
    [finding] = found(branched(joints[:at] + "10 A" + joints[at + 4 :]), "combiner-over-rating")
    assert finding.subjects[0] == weak


def test_a_joint_whose_strings_lead_nowhere_else_needs_both_poles() -> None:
    text = branched("  y-plus: {joins: [one, two]}\n  y-minus: {joins: [one]}\n")
    with pytest.raises(PlanUnusable) as unusable:
        build_circuit(load_plan("plan.yaml", text=text))
    assert any(
        "the negative of `y-plus` is an open end" in problem.message
        for problem in unusable.value.problems
    )
