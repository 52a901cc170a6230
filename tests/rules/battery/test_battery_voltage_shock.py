"""Voltage of a bank against what may be touched, and what kills."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels, sound

SHOCK = "battery-voltage-shock"


@pytest.mark.parametrize(
    ("row", "expected"),
    [("4s", []), ("5s", ["note"]), ("8s", ["note"]), ("9s", ["warning"])],
)
def test_by_the_highest_charge_voltage(row: str, expected: list[str]) -> None:
    """14.4 V each: 57.6, 72, 115.2 and 129.6 V."""
    plan = edited(("arrangement: 4s,", f"arrangement: {row},"), plan=sound(SHOCK))
    assert levels(plan, SHOCK) == expected


def test_what_it_says() -> None:
    [finding] = found(faulty(SHOCK), SHOCK)
    assert finding.message == "`drive` reaches 144 V on charge; above 120 V a touch can kill"
    assert finding.hazard == "shock"


def test_batteries_that_are_declared_apart_count_together() -> None:
    one = "{chemistry: agm, nominal: 48 V, capacity: 60 Ah, max_charge_voltage: 57.6 V}"
    rows = "".join(f"  row-{n}: {one}\n" for n in (2, 3))
    links = "".join(
        f"  link-{n}: {{from: {lower}.positive, to: row-{n}.negative, cable: batt-8, length: 20 cm,"
        " place: cabin}\n"
        for n, lower in ((2, "drive"), (3, "row-2"))
    )
    plan = edited(
        ("  drive-run: {from: drive, to: motor,",
         links + "  drive-back: {from: motor.negative, to: drive.negative, cable: batt-8,\n"
         "               length: 1 m, place: cabin}\n"
         "  drive-run: {from: row-3.positive, to: motor.positive,"),
        ("  drive: {", f"{rows}  drive: {{"), plan=sound(SHOCK),
    )  # fmt: skip
    [finding] = found(plan, SHOCK)
    assert "together reach 173 V on charge" in finding.message
