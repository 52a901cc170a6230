"""Too many lugs on one post or stud."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import asked, faulty, found, levels, sound

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


def strings_at_the_input(count: int) -> str:
    strings = "".join(f"  s{n}: {{module: m, mounting: roof-gap}}\n" for n in range(count))
    wires = "".join(f"  w{n}: {{from: s{n}, to: tracker.pv, length: 5 m}}\n" for n in range(count))
    return (
        "wattproof: 1\nsetting: cabin\ncode: iec\ndatasheets:\n  modules:\n"
        "    m: {voc: 24.3 V, vmp: 20.4 V, isc: 5.2 A, imp: 4.9 A}\n"
        f"strings:\n{strings}"
        "controllers:\n  tracker: {kind: mppt, max_input_voltage: 100 V}\n"
        "batteries:\n  house: {chemistry: agm, nominal: 12 V, capacity: 400 Ah}\n"
        f"wires:\n  up: {{from: tracker.battery, to: house, length: 1 m}}\n{wires}"
    )


@pytest.mark.parametrize(("count", "asks"), [(2, 0), (3, 1), (6, 1)])
def test_bare_ends_in_a_clamp_are_asked_about(count: int, asks: int) -> None:
    """Two may share one; how more are joined nobody told."""
    plan = strings_at_the_input(count)
    assert not found(plan, LUGS)
    assert asked(plan, LUGS) == ["not told"] * asks
