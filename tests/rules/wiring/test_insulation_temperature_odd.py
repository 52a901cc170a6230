"""Temperature ratings of insulation that look like degrees Fahrenheit."""

from __future__ import annotations

import pytest

from rule_runs import faulty, found, levels, sound

ODD = "insulation-temperature-odd"


@pytest.mark.parametrize(
    ("told", "fires"),
    [
        ("75 °C", False),
        ("194 °F", False),
        ("194 °C", True),  # 90 °C
        ("221 °C", True),  # 105 °C
        ("167 °C", True),  # 75 °C
        ("150 °C", False),
        ("180 °C", False),  # silicone
        ("200 °C", False),
        ("260 °C", False),
    ],
)
def test_by_the_ratings_that_there_are(told: str, fires: bool) -> None:
    plan = sound(
        ODD,
        ("kind: pv, insulation_temperature: 90 °C", f"kind: pv, insulation_temperature: {told}"),
    )
    assert levels(plan, ODD) == (["warning"] if fires else [])


def test_the_other_unit_is_told() -> None:
    [finding] = found(faulty(ODD), ODD)
    assert finding.message == (
        "the insulation of `pv-10` is given as 194 °C, and no cable is rated that; 194 °F "
        "would be 90 °C"
    )
