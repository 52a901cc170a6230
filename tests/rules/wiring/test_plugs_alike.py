"""One kind of plug for circuits that must never be plugged into each other."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

PLUGS = "plugs-alike"


def test_words() -> None:
    [finding] = found(faulty(PLUGS), PLUGS)
    assert (finding.level, finding.hazard) == ("warning", "fire")
    assert "`home-run` of the array" in finding.message
    assert "`outlet-run` of the battery have plugs of one kind (genderless-50)" in finding.message


@pytest.mark.parametrize(
    ("plug", "fires"),
    [
        ("cigar", False),
        ("flat-two-pin", False),
        ("genderless-50", True),
        ("trailer-7", False),
    ],
)
def test_kinds(plug: str, fires: bool) -> None:
    plan = sound(PLUGS, ("plug: cigar", f"plug: {plug}, plug_rating: 50 A"))
    assert bool(levels(plan, PLUGS)) is fires


def test_two_outlets_may_be_alike() -> None:
    more = (
        "  second-run: {from: house, to: pump, cable: batt-8, length: 2 m, place: cabin, "
        "plug: cigar}\n"
    )
    plan = edited(("wires:\n", f"wires:\n{more}"), plan=sound(PLUGS))
    assert not found(plan, PLUGS)
