"""The size of a conductor against what the terminals at its ends take."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found, levels, sound

TERMINAL = "conductor-over-terminal"


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
    assert "take 10 AWG at most" in finding.message
    assert "a part that takes 8 AWG" in finding.remedy
