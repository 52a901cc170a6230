"""A way around a main fuse: which of two ways is the honest one."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found
from study.test_several_members import BOAT
from wattproof.study import Study
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
