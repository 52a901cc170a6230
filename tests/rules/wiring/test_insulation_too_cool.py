"""The air around a cable against what its insulation stands."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import found, sound
from wattproof.testing import check_text

COOL = "insulation-too-cool"


@pytest.mark.parametrize(
    ("insulation", "fires"),
    [("60 °C", True), ("75 °C", False), ("105 °C", False)],
)
def test_air_of_60_degrees(insulation: str, fires: bool) -> None:
    plan = edited(("insulation_temperature: 105 °C", f"insulation_temperature: {insulation}"),
                  plan=sound(COOL))  # fmt: skip
    findings = found(plan, COOL)
    assert [(f.level, f.subjects) for f in findings] == (
        [("error", ("charge-run",))] if fires else []
    )
    if fires:
        assert "reaches 60 °C and its insulation is rated 60 °C" in findings[0].message
        assert "90 °C or more" in findings[0].remedy
        others = check_text(plan).each
        assert {f.rule for f in others} == {COOL}  # not the size, nor the fuse
        better = edited(("insulation_temperature: 60 °C", "insulation_temperature: 90 °C"),
                        plan=plan)  # fmt: skip
        assert not found(better, COOL)


def test_above_the_end_of_the_table_the_wire_is_too_small_and_its_fuse_too_large() -> None:
    """The 60 °C column of NEC 310.15(B)(1) ends at 55 °C: the equation behind it goes on."""
    plan = edited(
        ("insulation_temperature: 105 °C", "insulation_temperature: 60 °C"),
        ("beside-engine: {ambient: 60 °C}", "beside-engine: {ambient: 58 °C}"),
        plan=sound(COOL),
    )
    assert not found(plan, COOL)
    [small] = found(plan, "conductor-too-small")
    assert small.subjects == ("charge-run",)
    assert found(plan, "fuse-over-conductor")


def test_air_that_is_too_hot_does_not_hide_a_fuse_that_is_too_large_anyway() -> None:
    """60 A of 8 AWG in free air and 40 A of its terminals do not bear 80 A in any air."""
    plan = edited(
        ("insulation_temperature: 105 °C", "insulation_temperature: 60 °C"), plan=sound(COOL)
    )
    assert {f.rule for f in check_text(plan).each} == {COOL}
    large = edited(("charge-fuse: {rating: 40 A", "charge-fuse: {rating: 80 A"), plan=plan)
    assert found(large, COOL)
    [finding] = found(large, "fuse-over-conductor")
    assert finding.level == "error"
    assert "protects it, even in cool air" in finding.message
    thin = edited(("batt-8: {size: 8 AWG", "batt-8: {size: 14 AWG"), plan=plan)
    assert found(thin, COOL)
    [small] = found(thin, "conductor-too-small")
    assert "even in cool air" in small.message


@pytest.mark.parametrize("insulation", ["60 °C", "70 °C"])
def test_cool_insulation_in_the_engine_space_of_a_boat_is_refused(insulation: str) -> None:
    boat = edited(
        ("setting: vehicle", "setting: boat"),
        ("code: nec-2023", "code: abyc-e11"),
        ("beside-engine: {ambient: 60 °C}", "beside-engine: {ambient: 45 °C, engine_space: true}"),
        plan=sound(COOL),
    )
    assert not found(boat, COOL)
    cooler = f"material: copper, insulation_temperature: {insulation}"
    plan = edited(("material: copper, insulation_temperature: 105 °C", cooler), plan=boat)
    [finding] = found(plan, COOL)
    assert finding.subjects == ("charge-run",)
    assert f"{insulation} insulation is not allowed in an engine space" in finding.message
    assert "75 °C or more" in finding.remedy


def test_what_is_assumed_makes_a_warning_unless_no_usual_cable_stands_it() -> None:
    unmarked = edited((", insulation_temperature: 105 °C", ""), ("kind: battery", "kind: building"),
                      plan=sound(COOL))  # fmt: skip
    assert not found(unmarked, COOL)  # 75 °C is usual
    warm = edited(("{ambient: 60 °C}", "{ambient: 80 °C}"), plan=unmarked)
    assert [(f.level, f.verdict) for f in found(warm, COOL)] == [("warning", "likely")]
    hot = edited(("{ambient: 60 °C}", "{ambient: 110 °C}"), plan=unmarked)  # above 105 °C too
    assert [(f.level, f.verdict) for f in found(hot, COOL)] == [("error", "certain")]
