"""Rules on how cables are made and end: strands, thickness, terminals, length, adapters."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import RULES, faulty, found, levels, sound
from wattproof.testing import check_examples

SOLID = "solid-conductor-in-motion"
THIN = "conductor-too-thin"
TERMINAL = "conductor-over-terminal"
LENGTH = "wire-length-odd"
ADAPTERS = "plug-polarity-unsure"


@pytest.mark.parametrize("rule", [SOLID, THIN, TERMINAL, LENGTH, ADAPTERS])
def test_examples(rule: str) -> None:
    check_examples(RULES.rules[rule], RULES)


# Strands.


@pytest.mark.parametrize(
    ("setting", "expected"),
    [("vehicle", ["warning"]), ("boat", ["error"]), ("portable", ["warning"]), ("cabin", [])],
)
def test_solid_conductors_by_setting(setting: str, expected: list[str]) -> None:
    plan = edited(("setting: vehicle", f"setting: {setting}"), plan=faulty(SOLID))
    assert levels(plan, SOLID) == expected


def test_every_wire_of_it_is_told_and_stranded_ones_are_not() -> None:
    [finding] = found(faulty(SOLID), SOLID)
    assert finding.message == "`charge-run` (8 AWG) is of solid `batt-8`, in a vehicle"
    assert not found(edited(("strands: solid", "strands: stranded"), plan=faulty(SOLID)), SOLID)


# Thickness.


def test_in_a_sheath_thinner_is_allowed() -> None:
    sheathed = edited(
        ("cable: thin, length: 2 m,", "cable: thin, length: 2 m, enclosed: true,"),
        plan=faulty(THIN),
    )
    assert levels(faulty(THIN), THIN) == ["note"]
    assert not found(sheathed, THIN)


@pytest.mark.parametrize(
    ("size", "code", "expected"),
    [
        ("1 mm²", "iso-13297", []),
        ("0.75 mm²", "iso-13297", ["note"]),
        ("16 AWG", "iso-13297", []),
        ("18 AWG", "nec-2023", []),
        ("1 mm²", "abyc-e11", ["note"]),
    ],
)
def test_the_thinnest_by_the_body_of_rules(size: str, code: str, expected: list[str]) -> None:
    plan = edited(
        ("code: abyc-e11", f"code: {code}"), ("size: 16 AWG", f"size: {size}"), plan=sound(THIN)
    )
    assert levels(plan, THIN) == expected


# Terminals.


@pytest.mark.parametrize(
    ("largest", "expected"), [("8 AWG", []), ("10 mm²", []), ("9 AWG", ["warning"])]
)
def test_a_size_at_and_over_that_of_the_terminal(largest: str, expected: list[str]) -> None:
    """8 AWG is 8.37 mm²."""
    plan = edited(("max_conductor: 6 AWG", f"max_conductor: {largest}"), plan=sound(TERMINAL))
    assert levels(plan, TERMINAL) == expected


def test_devices_in_the_wire_have_terminals_too() -> None:
    fuse = "charge-fuse: {rating: 40 A,"
    plan = edited((fuse, f"{fuse} max_conductor: 10 AWG,"), plan=sound(TERMINAL))
    [finding] = found(plan, TERMINAL)
    assert finding.subjects == ("charge-run", "charge-fuse")
    assert "take 10 AWG at the most" in finding.message
    assert "a part that takes 8 AWG" in finding.remedy


# Length.


@pytest.mark.parametrize(
    ("setting", "length", "expected"),
    [
        ("vehicle", "20 m", []),
        ("vehicle", "20.1 m", ["note"]),
        ("boat", "40 m", []),
        ("boat", "41 m", ["note"]),
        ("cabin", "200 m", []),
    ],
)
def test_the_longest_by_setting(setting: str, length: str, expected: list[str]) -> None:
    plan = edited(
        ("setting: vehicle", f"setting: {setting}"),
        ("length: 13 ft", f"length: {length}"),
        plan=sound(LENGTH),
    )
    assert levels(plan, LENGTH) == expected


def test_both_slips_are_told() -> None:
    [finding] = found(faulty(LENGTH), LENGTH)
    assert "42 ft would be 12.8 m" in finding.remedy
    assert "counts once, 21 m" in finding.remedy
    assert [str(change) for way in finding.ways for change in way] == [
        "`length: 42 ft` for `home-run`"
    ]


def test_a_length_in_feet_was_not_written_in_metres() -> None:
    [finding] = found(edited(("length: 42 m", "length: 80 ft"), plan=faulty(LENGTH)), LENGTH)
    assert finding.remedy == (
        "measure it again: the way there and back counts once, 12.2 m; where it is right, accept it"
    )
    assert [str(change) for way in finding.ways for change in way] == [
        "`length: 12.2 m` for `home-run`"
    ]


# Adapters.


def test_each_adapter_counts() -> None:
    [finding] = found(faulty(ADAPTERS), ADAPTERS)
    assert finding.message == (
        "`home-run` has an adapter in it, which may swap the poles of up to 81.99 V"
    )
    [finding] = found(edited(("adapters: 1", "adapters: 2"), plan=faulty(ADAPTERS)), ADAPTERS)
    assert "has 2 adapters in it, each of which may swap" in finding.message
    assert str(finding.values[0]) == "2"


@pytest.mark.parametrize(("length", "n"), [("4 mm", 1), ("19 mm", 1), ("20 mm", 0), ("5 cm", 0)])
def test_a_wire_shorter_than_its_terminals(length: str, n: int) -> None:
    plan = edited(("batt-8, length: 1 m", f"batt-8, length: {length}"), plan=sound(LENGTH))
    plan = plan.replace("distance: 10 cm", "distance: 1 mm")
    findings = found(plan, LENGTH)
    assert len(findings) == n
    assert all("shorter than its own terminals" in f.message for f in findings)
    assert n == 0 or length != "4 mm" or "perhaps 4 m is meant" in findings[0].remedy
