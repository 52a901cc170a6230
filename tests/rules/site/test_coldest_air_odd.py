"""The coldest air of a site against what even mild coasts get at its latitude."""

from __future__ import annotations

import pytest

from rule_runs import faulty, found, sound

COLDEST = "coldest-air-odd"
NORTH = "latitude: 52°"


def test_a_lost_minus_sign() -> None:
    [finding] = found(faulty(COLDEST), COLDEST)
    assert finding.level == "warning"
    # 14 °C at 25°, and 0.4 K less for each degree: 3.2 °C at 52°.
    assert finding.message == (
        "the coldest air is told as 18 °C, and at 52° of latitude the mildest coasts get as cold "
        "as 3.2 °C; is it −18 °C?"
    )


@pytest.mark.parametrize(
    ("latitude", "coldest", "told"),
    [
        ("52°", "3 °C", False),
        ("52°", "4 °C", True),
        ("-52°", "4 °C", True),
        ("35°", "10 °C", False),
        ("35°", "11 °C", True),
        ("25°", "14 °C", False),
        ("24°", "22 °C", False),  # the tropics
        ("65°", "-3 °C", False),
        ("52°", "unknown", False),
    ],
)
def test_by_latitude(latitude: str, coldest: str, told: bool) -> None:
    plan = sound(
        COLDEST, (NORTH, f"latitude: {latitude}"), ("coldest: -18 °C", f"coldest: {coldest}")
    )
    assert bool(found(plan, COLDEST)) is told


def test_without_a_latitude_nothing_can_be_said() -> None:
    plan = sound(COLDEST, (f", {NORTH}", ""), ("coldest: -18 °C", "coldest: 18 °C"))
    assert not found(plan, COLDEST)


@pytest.mark.parametrize(
    ("latitude", "coldest", "said"),
    [
        ("", "25 °C", None),
        ("", "26 °C", "even the mildest islands get as cold as 25 °C; is it −26 °C?"),
        (
            "",
            "45 °C",
            "even the mildest islands get as cold as 25 °C; is it 45 °F, which are 7 °C?",
        ),
        ("", "120 °F", "even the mildest islands get as cold as 25 °C"),
        ("latitude: 8°, ", "30 °C", "at 8° of latitude the mildest coasts get as cold as 25 °C"),
        ("latitude: 52°, ", "37 °C", "is it 37 °F, which are 3 °C?"),
        ("latitude: 40°, ", "40 °C", "is it 40 °F, which are 4 °C?"),
    ],
)
def test_no_place_at_all_is_so_warm_all_year(latitude: str, coldest: str, said: str | None) -> None:
    """By records of islands, from memory: at the lowest some 20 °C where it is warmest."""
    plan = sound(
        COLDEST,
        ("hottest: 40 °C, latitude: 52°,", f"hottest: 55 °C, {latitude}"),
        ("coldest: -18 °C", f"coldest: {coldest}"),
    )
    messages = [finding.message for finding in found(plan, COLDEST)]
    assert [said in message for message in messages] == ([] if said is None else [True])
