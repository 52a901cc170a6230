"""Too many lugs on one post or stud."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

LUGS = "terminal-overcrowded"


def test_words() -> None:
    findings = found(faulty(LUGS), LUGS)
    assert [f.level for f in findings] == ["warning", "warning"]  # both posts
    assert {f.message.partition(":")[0] for f in findings} == {
        "5 conductors are stacked on `house.positive`; 4 is the most",
        "5 conductors are stacked on `house.negative`; 4 is the most",
    }
    assert all("`fourth-run`" in f.message for f in findings)


@pytest.mark.parametrize(
    ("edits", "count"),
    [
        ((("capacity: 100 Ah", "capacity: 100 Ah, arrangement: 2p"),), 0),  # two posts of each pole
        ((("from: bar, to: fourth", "from: charge-fuse.load, to: fourth"),), 2),
    ],
)
def test_posts(edits: tuple[tuple[str, str], ...], count: int) -> None:
    plan = edited(*edits, plan=faulty(LUGS)) if count == 0 else faulty(LUGS)
    assert len(levels(plan, LUGS)) == count


def test_conductors_in_parallel_and_bonds_count() -> None:
    bond = (
        "bonds:\n  tie: {from: house.negative, to: chassis, cable: batt-8, length: 1 m}\nwires:\n"
    )
    [on_negative] = found(sound(LUGS, ("wires:\n", bond)), LUGS)
    assert "`house.negative`" in on_negative.message
    assert "`tie`" in on_negative.message
    twice = sound(LUGS, ("first-run: {from: house,", "first-run: {parallel: 2, from: house,"))
    assert len(levels(twice, LUGS)) == 2
