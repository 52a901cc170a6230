"""What an array is made of and what passes backwards into it, counted by hand."""

from __future__ import annotations

import re

import pytest

from plans import BASE, array_plan, edited
from wattproof.circuit.array_tree import Series, leaves
from wattproof.study.array.series import broken_without_portable, in_series_with
from wattproof.study.assumptions.reading import all_harsh
from wattproof.testing import study_of

UNPRINTED = ("max_series_fuse: 15 A, ", "")
STRING = "roof-string: {module: rigid-100, series: 3, mounting: roof-gap}"
HOME = (
    "  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, "
    "place: [roof, cabin]}\n"
)


@pytest.mark.parametrize(
    ("isc", "fuse"), [("5.2 A", 15.0), ("9.6 A", 15.0), ("9.7 A", 20.0), ("10 kA", 15_625.0)]
)
def test_the_series_fuse_that_a_label_leaves_out(isc: str, fuse: float) -> None:
    """1.25 × 1.25 times 9.6 A are 15 A, a rating; 9.7 A need the next, 20 A (NEC 690.8, 690.9).

    15 A at least. No rating reaches 15 625 A: the current itself stands.
    """
    [array] = study_of(edited(UNPRINTED, ("isc: 5.2 A", f"isc: {isc}"))).array.arrays
    assert array.modules[0].max_series_fuse.number == pytest.approx(fuse)


def test_modules_fit_by_the_factor_of_the_body_of_rules_where_the_label_slips() -> None:
    """+4 %/°C would leave nothing at 0 °C; 1.10 times 24.3 V are three in 100 V (NEC 690.7(A))."""
    plan = edited(("-0.29 %/°C", "4 %/°C"), ("coldest: -18 °C", "coldest: 0 °C"))
    [array] = study_of(plan).array.arrays
    assert array.fitting_in_series(100.0) == 3


def test_modules_are_counted_joined_or_not() -> None:
    """Three in the string of the plan; four of which it is open how they are joined."""
    assert len(study_of(BASE).array.every_module) == 3
    feeds = "arrangement: open, count: 4, feeds: {to: tracker, length: 4 m}"
    study = study_of(edited((STRING, STRING.replace("series: 3", feeds)), (HOME, "")))
    assert len(study.array.every_module) == 4


def test_a_single_string_of_like_modules_is_no_chain_of_unlike_members() -> None:
    [array] = study_of(BASE).array.arrays
    assert array.chains == ()


@pytest.mark.parametrize(
    ("kind", "told", "harsh", "leaks"),
    [
        ("mppt", None, True, False),
        ("mppt", "false", False, True),
        ("pwm", None, False, False),
        ("pwm", None, True, True),
        ("pwm", "true", True, False),
        ("pwm", "false", False, True),
    ],
)
def test_what_lets_battery_current_back_into_an_array(
    kind: str, told: str | None, harsh: bool, leaks: bool
) -> None:
    """A tracker's converter passes none; a pulse-width switch may, where its manual is silent."""
    blocks = f", blocks_reverse: {told}" if told else ""
    plan = BASE.replace(", blocks_reverse: true", blocks).replace("kind: mppt", f"kind: {kind}")
    study = study_of(plan)
    study = study.read_as(all_harsh("high")) if harsh else study
    [controller] = study.plan.controllers.values()
    assert study.array.leaks(controller) is leaks


@pytest.mark.parametrize(
    ("count", "name"),
    [
        (1, "s0"),
        (2, "s0 + s1"),
        (4, "s0 + s1 + s2 + s3"),
        (5, "s0 + s1 + s2 + s3 + 1 more"),
        (6, "s0 + s1 + s2 + s3 + 2 more"),
    ],
)
def test_a_group_is_named_by_its_strings(count: int, name: str) -> None:
    names = [f"s{n}" for n in range(6)]
    plan = array_plan(
        "".join(f"  {each}: {{module: rigid-100, series: 1}}\n" for each in names),
        "  home: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n",
        f"  joint: {{joins: [{', '.join(names)}], rating: 90 A}}\n",
    )
    [array] = study_of(plan).array.arrays
    own = [leaf for leaf in leaves(array.tree) if leaf.element.name in names[:count]]
    assert array.name_of(Series(tuple(own))) == name


def test_modules_in_series_are_counted_through_all_groups() -> None:
    """Two, three and one, one after another: each string is one of six in series."""
    counts = {"a": 2, "b": 3, "c": 1}
    plan = array_plan(
        "".join(f"  {n}: {{module: rigid-100, series: {k}}}\n" for n, k in counts.items()),
        "  ab: {from: a.positive, to: b.negative, cable: pv-10, length: 1 m}\n"
        "  bc: {from: b.positive, to: c.negative, cable: pv-10, length: 1 m}\n"
        "  plus: {from: c.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m}\n"
        "  minus: {from: a.negative, to: tracker.pv.negative, cable: pv-10, length: 4 m}\n",
    )  # fmt: skip
    [array] = study_of(plan).array.arrays
    assert {string.name: count for string, count in in_series_with(array)} == {
        "a": 6,
        "b": 6,
        "c": 6,
    }
    assert array.in_series() == 6
    [chain] = array.chains or [None]
    assert chain is not None
    assert chain.loss.number == pytest.approx(0.0, abs=1e-12)
    assert [link.in_parallel for link in chain.links] == [1, 1, 1]


MIXED = edited(
    ("  modules:\n", "  modules:\n    other-90: {voc: 24.0 V, vmp: 20.0 V, isc: 4.8 A, imp: 4.5 A, "
     "pmax: 90 W, voc_coefficient: -0.29 %/°C, max_series_fuse: 12 A, voc_tolerance: 5 %,\n"
     "                max_system_voltage: 600 V}\n"),
    ("{module: rigid-100, series: 3,", "{modules: [rigid-100, other-90, other-90],"),
)  # fmt: skip


def test_the_fuse_of_a_string_of_unlike_modules() -> None:
    """By the largest current, 5.2 A × 1.25 × 1.25, and by the smallest label, 12 A (NEC 690.9)."""
    [array] = study_of(MIXED).array.arrays
    window = array.all_strings[0].fuse_window
    assert window.lower.number == pytest.approx(8.125)
    assert window.label.number == 12.0
    assert window.upper is None
    assert window.words == "10 A"


@pytest.mark.parametrize(("usual", "tolerance"), [(0.03, 0.05), (0.10, 0.10)])
def test_the_largest_tolerance_of_the_labels_counts(usual: float, tolerance: float) -> None:
    """One label tells 5 %, the other none, of which the usual one is taken."""
    [array] = study_of(MIXED).array.arrays
    assert array.label_tolerance(usual) == tolerance


def test_of_unlike_modules_each_figure_takes_the_one_that_is_safe_for_it() -> None:
    """5.2 A the most in short circuit, 4.5 A the least at maximum power; voltages add up."""
    [array] = study_of(MIXED).array.arrays
    [string] = array.all_strings
    assert string.isc("standard").number == 5.2
    assert string.isc("bright").number == pytest.approx(1.25 * 5.2)
    assert string.imp("standard").number == 4.5
    assert string.voc("standard").number == pytest.approx(24.3 + 2 * 24.0)
    assert string.vmp("standard").number == pytest.approx(20.4 + 2 * 20.0)
    assert string.isc("hottest").number == pytest.approx(
        5.2 * (1 + 0.0005 * (string.cells("hottest").number - 25.0))
    )
    [chain] = array.chains
    apart = 20.4 * 4.9 + 2 * 20.0 * 4.5
    assert chain.loss.number == pytest.approx(1.0 - 60.4 * 4.5 / apart)
    assert [(link.name, link.in_parallel) for link in chain.links] == [
        ("rigid-100", 1),
        ("other-90", 1),
    ]
    assert array.power("standard").number == pytest.approx(60.4 * 4.5)


TWO_STRINGS = """\
  left: {module: rigid-100, series: 3, mounting: roof-gap}
  right: {module: rigid-100, series: 2, mounting: roof-gap}
"""
JOINED = """\
  left-run: {from: left, to: bars, cable: pv-10, length: 1 m}
  right-run: {from: right, to: bars, cable: pv-10, length: 1 m}
  home: {from: bars, to: tracker.pv, cable: pv-10, length: 4 m}
"""


def test_branches_of_unlike_voltage() -> None:
    """61.2 V beside 40.8 V, of 72.9 and 48.6 V open: at 40.8 V both work, 9.8 A of 4.9 A each.

    At 61.2 V the shorter one gives nothing. Each pushes 1.25 × 5.2 A into the other (NEC 690.9).
    """
    bars = JOINED.replace("to: bars", "to: joint").replace("from: bars", "from: joint")
    plan = array_plan(TWO_STRINGS, bars, "  joint: {rating: 30 A, voltage: 600 V}\n")
    [array] = study_of(plan).array.arrays
    assert array.voc("standard").number == pytest.approx(3 * 24.3)
    assert array.vmp("standard").number == pytest.approx(2 * 20.4)
    assert array.highest_vmp("standard").number == pytest.approx(3 * 20.4)
    assert array.isc("standard").number == pytest.approx(2 * 5.2)
    assert array.imp("standard").number == pytest.approx(2 * 4.9)
    assert (array.in_series(), array.in_parallel()) == (3, 2)
    [joint] = array.joints
    assert {branch.name for branch in joint.branches} == {"left", "right"}
    loss = 1.0 - 40.8 * 9.8 / (61.2 * 4.9 + 40.8 * 4.9)
    assert array.loss_at(joint).number == pytest.approx(loss)
    pushed = {flow.string.name: flow.unlimited for flow in array.backflows}
    assert {name: v.number for name, v in pushed.items() if v is not None} == pytest.approx(
        {"left": 6.5, "right": 6.5}
    )


@pytest.mark.parametrize(
    ("inline", "off", "on"),
    [
        ({}, [], ["left", "right"]),
        ({"left-run": "off"}, ["off"], ["right"]),
        ({"left-run": "off", "right-run": "other"}, ["off", "other"], []),
        ({"home": "off"}, ["off"], []),
        ({"home": "off", "left-run": "other"}, ["off"], []),
    ],
)
def test_what_switches_cut_off_and_what_stays_on(
    inline: dict[str, str], off: list[str], on: list[str]
) -> None:
    """A switch in a branch leaves the other one on; one in the home run, or both, leave none."""
    wires = JOINED.replace("to: bars", "to: joint").replace("from: bars", "from: joint")
    for wire, switch in inline.items():
        wires = re.sub(rf"({wire}: .*)}}", rf"\1, inline: [{switch}]}}", wires)
    made = "{rating: 30 A, voltage: 150 V, dc: true, poles: 2, load_break: true}"
    plan = array_plan(TWO_STRINGS, wires, "  joint: {rating: 30 A, voltage: 600 V}\n")
    named = "".join(f"  {name}: {made}\n" for name in sorted(inline.values()))
    plan = edited(("fuses:\n", f"switches:\n{named}fuses:\n" if named else "fuses:\n"), plan=plan)
    study = study_of(plan)
    [array] = study.array.arrays
    switches, left = study.array.left_on(array)
    assert sorted({passage.name for passage in switches}) == off
    assert sorted(array.name_of(tree) for tree in left) == on
    whole = {passage.name for passage in study.array.switches_of(array)}
    assert whole == (set() if on else set(off))


@pytest.mark.parametrize(
    ("device", "pole", "wire", "opens"),
    [
        ("poles: 2", "positive", "both", True),
        ("poles: 2", "negative", "both", True),
        ("poles: 1", "positive", "plus", True),
        ("poles: 1", "negative", "plus", False),
        ("poles: 2", "negative", "plus", True),
        ("poles: 1", "negative", "minus", True),
    ],
)
def test_which_pole_a_switch_opens(device: str, pole: str, wire: str, opens: bool) -> None:
    """One of two poles opens both, also where it is drawn in the wire of one."""
    inline = {"both": "roof-string, to: tracker.pv", "plus": "", "minus": ""}[wire]
    cable = "cable: pv-10, length: 4 m, place: [roof, cabin]"
    if inline:
        home = f"  home-run: {{from: {inline}, {cable}, inline: [off]}}\n"
    else:
        own = {w: ", inline: [off]" if w == wire else "" for w in ("plus", "minus")}
        home = (
            f"  plus: {{from: roof-string.positive, to: tracker.pv.positive, "
            f"{cable}{own['plus']}}}\n"
            f"  minus: {{from: roof-string.negative, to: tracker.pv.negative, "
            f"{cable}{own['minus']}}}\n"
        )
    plan = edited(
        (HOME, home),
        ("fuses:\n", f"switches:\n  off: {{rating: 30 A, voltage: 150 V, dc: true, {device}}}\n"
         "fuses:\n"),
    )  # fmt: skip
    study = study_of(plan)
    [array] = study.array.arrays
    found = study.array.switches_of(array, pole)
    assert bool(found) is opens
    assert {passage.name for passage in found} <= {"off"}


ROW = (
    "  ab: {from: a.positive, to: b.negative, cable: pv-10, length: 1 m}\n"
    "  bc: {from: b.positive, to: c.negative, cable: pv-10, length: 1 m}\n"
    "  plus: {from: c.positive, to: tracker.pv.positive, cable: pv-10, length: 4 m}\n"
    "  minus: {from: a.negative, to: tracker.pv.negative, cable: pv-10, length: 4 m}\n"
)


def in_a_row(portable: str) -> str:
    """Two modules, three and one, one after another; one of the strings is portable."""
    return array_plan(
        "".join(
            f"  {n}: {{module: rigid-100, series: {k}{', portable: true' * (n == portable)}}}\n"
            for n, k in {"a": 2, "b": 3, "c": 1}.items()
        ),
        ROW,
    )


def test_what_a_portable_string_in_a_row_leaves_dead_adds_up() -> None:
    """20.4 V times 4.9 A of each of three modules."""
    [array] = study_of(in_a_row("b")).array.arrays
    [broken] = broken_without_portable(array)
    assert {string.name for string in broken.fixed} == {"a", "c"}
    assert broken.dead.number == pytest.approx(3 * 20.4 * 4.9)


def test_strings_side_by_side_add_nothing_in_series() -> None:
    bars = JOINED.replace("to: bars", "to: joint").replace("from: bars", "from: joint")
    plan = array_plan(TWO_STRINGS, bars, "  joint: {rating: 30 A, voltage: 600 V}\n")
    [array] = study_of(plan).array.arrays
    found = {string.name: count for string, count in in_series_with(array)}
    assert found == {"left": 3, "right": 2}
    carried = {leaf.element.name: array.name_of(whole) for leaf, whole in array.carried()}
    assert carried["left-run"] == "left"
    assert carried["right-run"] == "right"


def test_what_no_switch_cuts_off_of_a_row_stays_on_whole() -> None:
    """Two in series: it is the row that stays on, not its first string."""
    row = ROW[: ROW.index("  bc:")] + ROW[ROW.index("  plus:") :].replace(
        "c.positive", "b.positive"
    )
    plan = array_plan(
        "  a: {module: rigid-100, series: 1}\n  b: {module: rigid-100, series: 2}\n", row
    )
    study = study_of(plan)
    [array] = study.array.arrays
    switches, left = study.array.left_on(array)
    assert switches == ()
    assert left == (array.tree,)


def test_a_joint_that_is_plugged_into_another_beside_a_string_is_one_branch_of_it() -> None:
    plan = array_plan(
        "".join(f"  {n}: {{module: rigid-100, series: 2}}\n" for n in "abcd"),
        "  home: {from: whole, to: tracker.pv, cable: pv-10, length: 4 m}\n",
        "  plug: {joins: [a, b, c], rating: 30 A}\n  whole: {joins: [plug, d], rating: 60 A}\n",
    )
    [array] = study_of(plan).array.arrays
    branches = {joint.name: len(joint.branches) for joint in array.joints}
    assert branches == {"plug": 3, "whole": 2}


def test_what_stands_in_for_a_printed_value_speaks_against_no_other() -> None:
    """5.4 A at maximum power are more than 5.2 A of short circuit."""
    plan = edited(("imp: 4.9 A", "imp: 5.4 A"))
    assert set(study_of(plan).array.doubtful.values()) == {"rigid-100"}
    assert not study_of(BASE).array.doubtful


def test_two_leads_side_by_side_carry_what_the_string_behind_both_gives() -> None:
    made = "{rating: 15 A, voltage: 600 V, style: gpv, dc: true}"
    minus = HOME.replace("roof-string,", "roof-string.negative,").replace(
        "tracker.pv", "tracker.pv.negative"
    )
    plus = (
        minus.replace("negative", "positive")
        .replace("home-run", "second")
        .replace("]}", "], inline: [right]}")
    )
    both = minus + plus + plus.replace("second", "third").replace("right", "left")
    plan = edited((HOME, both), ("fuses:\n", f"fuses:\n  left: {made}\n  right: {made}\n"))
    [array] = study_of(plan).array.arrays
    carried = list(array.carried())
    assert {"second", "third", "left", "right"} <= {leaf.element.name for leaf, _ in carried}
    assert all(array.strings_of(whole) for _, whole in carried)
