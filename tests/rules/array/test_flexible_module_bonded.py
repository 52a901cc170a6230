"""Flexible modules glued flat to a skin, and the heat of their cells."""

from __future__ import annotations

import pytest

from plans import edited
from rule_runs import faulty, found, levels

GLUED = "flexible-module-bonded"


def test_how_much_hotter_and_what_it_costs() -> None:
    """King's rows at 40 °C, 1 m/s of wind, 1000 W/m²: 97.5 °C glued; 76.25 °C over a gap."""
    [finding] = found(faulty(GLUED), GLUED)
    hot, hotter, volts, better = (value.number for value in finding.values)
    assert hot == pytest.approx(40 + 1000 * 2.718281828 ** (-2.81 - 0.0455), abs=0.01)
    assert hotter == pytest.approx(1000 * 2.718281828**-2.8555 - (49.0 - 20.0) / 0.8, abs=0.01)
    assert volts < better


def test_rigid_modules_and_arrangements() -> None:
    assert not found(edited(("build: flexible, ", ""), plan=faulty(GLUED)), GLUED)
    plan = edited(("series: 3,", "arrangement: 3s2p,"), plan=faulty(GLUED))
    assert levels(plan, GLUED) == ["note"]  # once for both strings


def test_cells_that_are_told_to_stay_cool() -> None:
    """Glued to a hull in the water: 60 °C is less than over a gap."""
    cool = edited(
        ("mounting: roof-bonded", "mounting: roof-bonded, hottest_cells: 60 °C"), plan=faulty(GLUED)
    )
    assert not found(cool, GLUED)


def test_a_short_form_is_told_by_its_own_name_and_mended() -> None:
    plan = edited(("series: 3,", "arrangement: 3s2p,"), plan=faulty(GLUED))
    (finding,) = found(plan, GLUED, tried=True)
    (name,) = finding.subjects
    assert f"`{name}`" in finding.message
    assert [trial.clears for trial in finding.trials] == [(finding.identity,)]
