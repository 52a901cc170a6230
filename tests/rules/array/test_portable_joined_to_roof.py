"""Portable modules in one circuit with fixed ones: what is left when they are taken away."""

from __future__ import annotations

import pytest

from rule_runs import RULES, sound
from rule_runs import found_beside_all as found

PORTABLE = "portable-joined-to-roof"


def test_portable_in_series_with_the_roof() -> None:
    plan = sound(PORTABLE, ("portable: false", "portable: true"))
    (finding,) = found(plan, PORTABLE)
    assert finding.subjects == ("rear-string", "roof-string")
    assert finding.values[0].number == pytest.approx(20.4 * 4.9)
    both = plan.replace("mounting: roof-gap}", "mounting: roof-gap, portable: true}")
    assert not found(both, PORTABLE)  # nothing is left that could work


def test_portable_in_parallel_leaves_the_roof_working() -> None:
    head, _ = RULES.rules[PORTABLE].sound.split("  link:")
    plan = (
        head.replace("switches:\n", "combiners:\n  joint: {joins: [roof-string, rear-string], "
                     "rating: 30 A, voltage: 600 V}\nswitches:\n")
        + "  home-run: {from: joint, to: tracker.pv, cable: pv-10, length: 4 m, "
        "place: [roof, cabin], inline: [pv-off]}\n"
    ).replace("portable: false", "portable: true")  # fmt: skip
    assert not found(plan, PORTABLE)
