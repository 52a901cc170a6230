"""The pull of the wind at road speed on modules that only glue holds to a roof."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, sound

MOUNT = "mount-not-proven"


def test_the_pull_of_the_wind() -> None:
    """0.5 × 1.2 × (130/3.6)² × 1.5 × 0.55 = 645.5 N; three times that are 1936 N."""
    [finding] = found(faulty(MOUNT), MOUNT)
    assert (finding.level, finding.hazard) == ("warning", "injury")
    assert finding.message == (
        "only glue holds `roof-string`, and at 130 km/h the wind pulls at each `rigid-100` with up "
        "to 645 N"
    )
    assert finding.values[0].number == pytest.approx(0.6 * (130 / 3.6) ** 2 * 1.5 * 0.55)
    assert "hold 1936 N" in finding.remedy
    assert not found(sound(MOUNT), MOUNT)


def test_a_sheet_that_is_glued_all_over_is_a_note() -> None:
    """The wind does not get under it as long as the glue holds."""
    flat = edited(("mounting: roof-gap", "mounting: roof-bonded"), plan=faulty(MOUNT))
    assert [f.level for f in found(flat, MOUNT)] == ["note"]


@pytest.mark.parametrize(
    "edit",
    [
        (", fixing: bonded", ""),
        ("fixing: bonded", "fixing: bolted"),
        ("fixing: bonded", "fixing: clamped"),
        ("setting: vehicle", "setting: boat"),
        ("mounting: roof-gap", "mounting: ground"),
    ],
)
def test_not_declared_or_not_a_roof(edit: tuple[str, str]) -> None:
    assert not found(edited(edit, plan=faulty(MOUNT)), MOUNT)


def test_of_an_area_that_is_not_told_its_power_tells() -> None:
    """100 W / 200 W/m² = 0.5 m²: 0.5 × 1.2 × (130/3.6)² × 1.5 × 0.5 = 586.8 N."""
    [finding] = found(edited(("area: 0.55 m², ", ""), plan=faulty(MOUNT)), MOUNT)
    assert finding.values[0].number == pytest.approx(0.6 * (130 / 3.6) ** 2 * 1.5 * 0.5)


@pytest.mark.parametrize(("mounting", "level"), [("roof-bonded", "note"), ("roof-gap", "warning")])
def test_a_flexible_module_that_is_glued_all_over_is_a_note(mounting: str, level: str) -> None:
    plan = edited(
        ("rigid-100: {", "rigid-100: {build: flexible, "),
        ("mounting: roof-gap", f"mounting: {mounting}"),
        plan=faulty(MOUNT),
    )
    assert [f.level for f in found(plan, MOUNT)] == [level]


def test_area_in_feet() -> None:
    plan = edited(("area: 0.55 m²", "area: 5.92 ft²"), plan=faulty(MOUNT))
    [finding] = found(plan, MOUNT)
    assert finding.values[0].number == pytest.approx(645.5, rel=2e-3)
