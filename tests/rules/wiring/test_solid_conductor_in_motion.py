"""Solid conductors where everything shakes."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels

SOLID = "solid-conductor-in-motion"


@pytest.mark.parametrize(
    ("setting", "expected"),
    [("vehicle", ["warning"]), ("boat", ["error"]), ("portable", ["warning"]), ("cabin", [])],
)
def test_solid_conductors_by_setting(setting: str, expected: list[str]) -> None:
    plan = edited(("setting: vehicle", f"setting: {setting}"), plan=faulty(SOLID))
    assert levels(plan, SOLID) == expected


def test_every_wire_of_it_is_told_and_stranded_ones_are_not() -> None:
    [finding] = found(faulty(SOLID), SOLID)
    assert (
        finding.message == "`charge-run` (8 AWG) is solid wire, in a vehicle: vibration breaks it"
    )
    assert not found(edited(("strands: solid", "strands: stranded"), plan=faulty(SOLID)), SOLID)
