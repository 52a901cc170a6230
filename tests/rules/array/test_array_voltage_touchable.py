"""The cold voltage of an array against what may be touched, by how hands come to it."""

from __future__ import annotations

import pytest

from plans import array_plan, edited
from rule_runs import asked, sound
from rule_runs import found_beside_all as found
from wattproof.testing import check_text

TOUCH = "array-voltage-touchable"


@pytest.mark.parametrize(
    ("connector", "series", "portable", "fires"),
    [
        ("style: locking-pv,", 3, "true", False),
        ("style: flat-two-pin,", 3, "true", True),  # 82 V
        ("style: flat-two-pin,", 2, "true", True),  # 54.7 V, on wet ground
        ("style: flat-two-pin,", 1, "true", False),  # 27.3 V
        ("style: flat-two-pin,", 3, "false", True),  # on the ground, and nobody moves it
        ("", 3, "true", True),  # of no stated style
    ],
)
def test_touch(connector: str, series: int, portable: str, fires: bool) -> None:
    plan = sound(
        TOUCH,
        ("style: locking-pv,", connector),
        ("series: 3", f"series: {series}"),
        ("portable: true", f"portable: {portable}"),
    )
    findings = found(plan, TOUCH)
    told = "flat" in connector and series == 3  # bare above what is safe in dry places too
    assert [f.level for f in findings] == (["warning" if told else "note"] if fires else [])
    for finding in findings:
        assert finding.values[0].number == pytest.approx(series * 24.3 * (1 + 0.0029 * 43))
        assert "above 30 V no contact may be within reach where it is wet" in finding.message
        assert "at most 1 in series" in finding.remedy


def test_above_120_v_a_warning_stands_in_its_place() -> None:
    plan = sound(TOUCH, ("style: locking-pv,", ""), ("series: 3", "series: 5"))  # 136.6 V
    assert not found(plan, TOUCH)
    assert [f.level for f in found(plan, "array-voltage-shock")] == ["warning"]


@pytest.mark.parametrize(
    ("connector", "series", "wet", "limit"),
    [
        ("{rating: 30 A, voltage: 1000 V}", 3, "false", "60 V"),  # 82 V, nothing said
        ("{rating: 30 A, voltage: 1000 V}", 2, "true", None),  # 54.7 V, nothing said
        ("{style: flat-two-pin}", 3, "false", "60 V"),
        ("{style: flat-two-pin}", 2, "false", None),
        ("{style: flat-two-pin}", 2, "true", "30 V"),  # bare, where it is wet
        ("{style: flat-two-pin}", 1, "true", None),  # 27.3 V
        ("{style: locking-pv}", 3, "true", None),
    ],
)
def test_touch_of_what_is_fixed(connector: str, series: int, wet: str, limit: str | None) -> None:
    plan = sound(
        TOUCH,
        ("{style: locking-pv, rating: 30 A, voltage: 1000 V}", connector),
        ("mounting: ground, portable: true", "mounting: roof-gap, place: roof"),
        ("roof: {ambient: 65 °C", f"roof: {{ambient: 65 °C, wet: {wet}"),
        ("series: 3", f"series: {series}"),
    )
    findings = found(plan, TOUCH)
    told = "flat" in connector and series == 3
    level = "warning" if told else "note"
    assert [f.level for f in findings] == ([] if limit is None else [level])
    for finding in findings:
        assert f"above {limit}" in finding.message


@pytest.mark.parametrize("series", [3, 4, 5, 6])
def test_plugs_that_nobody_tells_are_a_note_at_every_voltage(series: int) -> None:
    """82, 109, 137 and 164 V: what the two rules say does not turn round at 120 V."""
    plan = sound(
        TOUCH,
        ("style: locking-pv,", ""),
        ("mounting: ground, portable: true", "mounting: roof-gap, place: roof"),
        ("series: 3", f"series: {series}"),
        ("max_input_voltage: 100 V", "max_input_voltage: 250 V"),
    )
    [finding] = found(plan, TOUCH)
    assert finding.level == "note"
    assert "the contacts of `roof-string` are not said to be guarded" in finding.message
    assert not found(plan, "array-voltage-shock")
    assert asked(plan, "array-voltage-shock") == (["plugs of modules"] if series > 4 else [])


@pytest.mark.parametrize(
    ("mounting", "how"),
    [
        ("roof-gap", "can be touched where rain reaches them"),
        ("open-rack", "can be reached from the ground, by people and animals"),
    ],
)
def test_a_wet_roof_is_not_reached_from_the_ground(mounting: str, how: str) -> None:
    """Two of 27.3 V in the cold, with pins that a finger reaches."""
    plan = sound(
        TOUCH,
        ("mounting: ground, portable: true", f"mounting: {mounting}, place: roof"),
        ("{style: locking-pv,", "{style: flat-two-pin,"),
        ("series: 3", "series: 2"),
        ("roof: {ambient: 65 °C", "roof: {ambient: 65 °C, wet: true"),
    )
    [finding] = found(plan, TOUCH)
    assert how in finding.message


def test_strings_stand_in_the_order_of_their_names() -> None:
    """Whichever way the joint is reduced; and those of a short form by the name that it has."""
    string = "{module: rigid-100, series: 3, mounting: roof-gap}"
    names = [f"string-{n}" for n in (1, 2, 3)]
    fuses = "".join(f"  f-{n}: {{rating: 15 A, style: gpv}}\n" for n in (1, 2, 3))
    leads = "".join(
        f"  lead-{n}: {{from: string-{n}, to: f-{n}, cable: pv-10, length: 1 m}}\n"
        for n in (1, 2, 3)
    )
    plan = array_plan(
        "".join(f"  {name}: {string}\n" for name in names),
        leads + "  run: {from: roof-joint, to: tracker.pv, cable: pv-10, length: 4 m}\n",
        "  roof-joint: {joins: [f-1, f-2, f-3], rating: 60 A, voltage: 600 V}\n",
    ).replace("fuses:\n", f"fuses:\n{fuses}")
    (finding,) = found(plan, TOUCH)
    assert "the contacts of `string-1`, `string-2` and `string-3` are not" in finding.message
    assert finding.subjects == tuple(names)
    short = check_text(edited(("series: 3", "arrangement: 3s2p")))
    plugs = [a.subject for a in short.uses if a.key == "plugs of modules"]
    assert plugs == ["roof-string"]
