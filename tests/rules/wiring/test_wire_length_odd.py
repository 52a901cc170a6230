"""Lengths that no wire of a vehicle or boat has, or none at all, as when a unit is mistaken."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

LENGTH = "wire-length-odd"


@pytest.mark.parametrize(
    ("setting", "length", "expected"),
    [
        ("vehicle", "20 m", []),
        ("vehicle", "20.1 m", ["note"]),
        ("boat", "40 m", []),
        ("boat", "41 m", ["note"]),
        ("cabin", "400 m", []),
        ("cabin", "410 m", ["note"]),
        ("portable", "60 m", []),
        ("portable", "61 m", ["note"]),
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


@pytest.mark.parametrize(("length", "n"), [("4 mm", 1), ("19 mm", 1), ("20 mm", 0), ("5 cm", 0)])
def test_a_wire_shorter_than_its_terminals(length: str, n: int) -> None:
    plan = edited(("batt-8, length: 1 m", f"batt-8, length: {length}"), plan=sound(LENGTH))
    plan = plan.replace("distance: 10 cm", "distance: 1 mm")
    findings = found(plan, LENGTH)
    assert len(findings) == n
    assert all("shorter than its own terminals" in f.message for f in findings)
    assert n == 0 or length != "4 mm" or "perhaps 4 m is meant" in findings[0].remedy
