"""What remedies write into a plan: counts of modules, fuses, switches, and where they sit."""

from __future__ import annotations

import pytest

from plans import BASE, array_plan, edited
from wattproof.plan.amend import Addition, Change
from wattproof.remedies.proposals import (
    fewer_in_series,
    fuse_in,
    fuse_that_breaks,
    in_series,
    moved,
    photovoltaic_fuse,
    switch_before,
    values_of,
)
from wattproof.study.array.arrays import ArrayStudy
from wattproof.testing import study_of

STRING = "{module: rigid-100, series: 3, mounting: roof-gap}"


def array(shape: str) -> ArrayStudy:
    [found] = study_of(edited((STRING, f"{{module: rigid-100, {shape}}}"))).array.arrays
    return found


@pytest.mark.parametrize(
    ("shape", "count", "key", "text", "rest"),
    [
        ("series: 4", 3, "series", "3", ""),
        ("series: 4", 2, "arrangement", "2s2p", ", the rest in parallel"),
        ("series: 4", 1, "series", "1", ""),  # four side by side would each ask for a fuse
        ("series: 2", 3, "series", "3", ""),  # one more to buy
        ("arrangement: 4s2p", 2, "arrangement", "2s2p", ""),
        ("arrangement: 2s2p", 4, "arrangement", "4s", ", the rest in parallel"),
        ("arrangement: 1s4p", 2, "arrangement", "2s2p", ", the rest in parallel"),
        ("arrangement: 2p4s", 3, "arrangement", "2p3s", ""),
    ],
)
def test_another_number_in_series(shape: str, count: int, key: str, text: str, rest: str) -> None:
    found = in_series(array(shape), count)
    assert found.changes == (Change("roof-string", key, text),)
    assert found.rest == rest


def test_a_string_that_lists_its_modules_says_no_other_number() -> None:
    mixed = edited((STRING, "{modules: [rigid-100, rigid-100, rigid-100], mounting: roof-gap}"))
    [found] = study_of(mixed).array.arrays
    assert in_series(found, 2).changes == ()


def test_strings_side_by_side_are_not_lengthened_by_modules_that_are_not_there() -> None:
    strings = "".join(f"  s{n}: {{module: rigid-100, series: 2}}\n" for n in (1, 2))
    home = "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m}\n"
    plan = array_plan(strings, home, "  joint: {joins: [s1, s2], rating: 30 A}\n")
    [found] = study_of(plan).array.arrays
    assert in_series(found, 3).changes == ()
    assert in_series(found, 1).changes == (Change("s1", "series", "1"), Change("s2", "series", "1"))


def test_so_many_in_series_that_no_module_is_left() -> None:
    four = array("series: 4")
    fewer = fewer_in_series(four, 3, 1)
    assert fewer.changes == (Change("roof-string", "arrangement", "2s2p"),)
    assert fewer.rest == ", such as 2 with the rest in parallel"
    assert fewer_in_series(four, 3, 3).changes == (Change("roof-string", "series", "3"),)
    assert fewer_in_series(four, 2, 1).rest == ", the rest in parallel"


@pytest.mark.parametrize(
    ("amps", "nominal", "volts", "rating", "style"),
    [
        (900.0, 12.8, 14.6, 30.0, "mini-blade"),
        (900.0, 12.8, 14.6, 40.0, "blade"),
        (1500.0, 12.8, 14.6, 100.0, "bolt-down"),
        (8000.0, 12.8, 14.6, 100.0, "stud-mounted"),
        (8000.0, 51.2, 58.4, 100.0, "class-t"),
    ],
)
def test_the_smallest_style_that_breaks_it(
    amps: float, nominal: float, volts: float, rating: float, style: str
) -> None:
    made = fuse_that_breaks(amps, nominal, volts, rating)
    assert made is not None
    assert made.name == style


def test_no_style_breaks_what_a_large_bank_drives() -> None:
    assert fuse_that_breaks(30_000.0, 12.8, 14.6, 100.0) is None


def test_the_style_of_a_photovoltaic_fuse() -> None:
    styles = [photovoltaic_fuse(*wanted) for wanted in ((80.0, 15.0), (80.0, 40.0), (800.0, 40.0))]
    assert [made.name for made in styles if made] == ["gpv", "gpv-bolted", "gpv-bolted"]
    assert photovoltaic_fuse(1200.0, 40.0) is None
    assert photovoltaic_fuse(800.0, 15.0) is None  # large ones are not made so small


def test_a_fuse_sits_before_what_is_in_its_wire_and_has_a_new_name() -> None:
    study = study_of(BASE.replace("charge-fuse", "charge-run-fuse"))
    wire, made = study.plan.wires["charge-run"], fuse_that_breaks(5000.0, 12.8, 14.6, 30.0)
    assert made is not None
    label = values_of(made, 12.8)
    fuse = fuse_in(wire, "house", 30.0, label, study.plan)
    assert fuse is not None
    assert (fuse.name, fuse.wire, fuse.from_end) == ("charge-run-fuse-2", "charge-run", "to")
    assert fuse.distance == "5 cm"  # the other one is at 10 cm
    far = fuse_in(wire, "tracker", 30.0, label, study.plan)
    assert far is not None
    assert (far.from_end, far.distance) == ("from", "10 cm")
    assert dict(far.values)["interrupt"] == "10 kA"  # those of 6 kA begin above 30 A
    assert fuse_in(wire, "elsewhere", 30.0, label, study.plan) is None


def test_a_fuse_is_moved_to_the_other_end() -> None:
    wire = study_of(edited()).plan.wires["charge-run"]
    assert moved(wire, "charge-fuse", "house", 0.05) == (
        Change("charge-run", "inline.charge-fuse.distance", "5 cm"),
    )
    assert moved(wire, "charge-fuse", "tracker", 0.178) == (
        Change("charge-run", "inline.charge-fuse.from_end", "from"),
        Change("charge-run", "inline.charge-fuse.distance", "10 cm"),
    )
    assert moved(wire, "charge-fuse", "elsewhere", 0.05) == ()


def test_a_switch_before_a_controller_needs_one_wire_of_both_poles() -> None:
    [whole] = study_of(edited()).array.arrays
    assert switch_before(whole, 81.1, 8.1) == Addition(
        "switches",
        "home-run-switch",
        (
            ("rating", "9 A"),
            ("voltage", "84 V"),
            ("dc", "true"),
            ("poles", "2"),
            ("load_break", "true"),
        ),
        "home-run",
    )
    split = edited(
        (
            "  home-run: {from: roof-string, to: tracker.pv, cable: pv-10, length: 4 m, "
            "place: [roof, cabin]}\n",
            "  plus: {from: roof-string.positive, to: tracker.pv.positive, cable: pv-10, "
            "length: 4 m}\n"
            "  minus: {from: roof-string.negative, to: tracker.pv.negative, cable: pv-10, "
            "length: 4 m}\n",
        )
    )
    [apart] = study_of(split).array.arrays
    assert switch_before(apart, 81.1, 8.1) is None
