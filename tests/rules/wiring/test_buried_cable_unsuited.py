"""Cable in the ground, by what it is made for and how deep it lies."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found, sound


@pytest.mark.parametrize(
    ("edit", "count"),
    [
        (("depth: 60 cm", "depth: 55 cm"), 1),
        (("type: NYY-J", "type: H07V-K"), 1),
        (("run: buried, depth: 60 cm", "run: buried, enclosed: true, depth: 50 cm"), 0),
        (("run: buried, depth: 60 cm", "run: surface"), 0),
    ],
)
def test_cable_in_the_ground(edit: tuple[str, str], count: int) -> None:
    plan = edited(edit, plan=sound("buried-cable-unsuited"))
    assert len(found(plan, "buried-cable-unsuited")) == count
