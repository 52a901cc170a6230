"""The most that charges a flooded lead bank against what keeps it well."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

SMALL = "flooded-charge-too-small"


@pytest.mark.parametrize(("capacity", "expected"), [("166 Ah", []), ("167 Ah", ["note"])])
def test_charge_current_of_flooded_lead(capacity: str, expected: list[str]) -> None:
    plan = edited(("capacity: 100 Ah", f"capacity: {capacity}"), plan=sound(SMALL))
    assert levels(plan, SMALL) == expected


def test_charge_current_numbers_and_remedy() -> None:
    [finding] = found(faulty(SMALL), SMALL)
    assert finding.message == (
        "`house` gets 16.7 A when all charge at once, and a flooded bank of 200 Ah needs 20 A at "
        "least"
    )
    assert finding.margin == pytest.approx(16.66 / 20 - 1, abs=1e-3)
    assert "give 20 A together charge it (about 3 modules in place of 2)" in finding.remedy
    assert not found(edited(("series: 2", "series: 3"), plan=faulty(SMALL)), SMALL)


def test_other_batteries_and_other_sources() -> None:
    agm = faulty(SMALL).replace("chemistry: flooded", "chemistry: agm")
    assert not found(agm, SMALL)
    alternator = edited(
        ("wires:\n", "chargers:\n  alternator: {kind: alternator, max_output_current: 90 A}\n"
         "wires:\n  alternator-run: {from: alternator, to: house, cable: batt-8, length: 2 m}\n"),
        plan=faulty(SMALL),
    )  # fmt: skip
    assert not found(alternator, SMALL)
    idle = faulty(SMALL).split("  uses:\n")[0]
    assert not found(idle, SMALL)  # a bank that only stands by
