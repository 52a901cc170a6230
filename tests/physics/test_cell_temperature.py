"""Properties of the cell temperature model."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.physics.cell_temperature import MOUNTINGS, Mounting, cell_temperature

mountings = st.sampled_from(sorted(MOUNTINGS))


@pytest.mark.parametrize(
    ("mounting", "rise"),
    [("open-rack", 29.4), ("roof-gap", 36.25), ("roof-bonded", 57.5), ("ground", 36.25)],
)
def test_rise_at_one_sun_and_one_metre_a_second(mounting: Mounting, rise: float) -> None:
    """SAND2004-3535, table 1, evaluated by hand: exp(a + b) x 1000 + dT; over a roof and on the
    ground (49 - 20) / 0.8."""
    assert cell_temperature(0.0, 1000.0, mounting) == pytest.approx(rise, abs=0.1)
    assert cell_temperature(25.0, 1000.0, mounting) == pytest.approx(25.0 + rise, abs=0.1)


def test_the_less_air_behind_the_hotter() -> None:
    rises = [cell_temperature(0.0, 1000.0, m) for m in ("open-rack", "roof-gap", "roof-bonded")]
    assert rises == sorted(rises)


@given(mountings, st.floats(-50.0, 60.0))
def test_no_sun_no_rise(mounting: Mounting, air: float) -> None:
    assert cell_temperature(air, 0.0, mounting) == air


@given(mountings, st.floats(-50.0, 60.0), st.floats(0.0, 1200.0))
def test_cells_are_never_colder_than_the_air(mounting: Mounting, air: float, sun: float) -> None:
    assert cell_temperature(air, sun, mounting) >= air


@given(mountings, st.floats(-50.0, 60.0), st.floats(1.0, 1200.0), st.floats(0.0, 15.0))
def test_wind_cools_and_sun_heats(mounting: Mounting, air: float, sun: float, wind: float) -> None:
    here = cell_temperature(air, sun, mounting, wind)
    assert here > air
    assert cell_temperature(air, sun, mounting, wind + 1.0) < here
    assert cell_temperature(air, sun + 1.0, mounting, wind) > here
    twice = cell_temperature(air, 2.0 * sun, mounting, wind)
    assert twice - air == pytest.approx(2.0 * (here - air))


@pytest.mark.parametrize(
    ("sun", "wind", "reason"),
    [
        (-1.0, 1.0, "irradiance must be finite and not negative"),
        (float("nan"), 1.0, "irradiance must be finite and not negative"),
        (1000.0, -1.0, "wind must be finite and not negative"),
        (1000.0, float("nan"), "wind must be finite and not negative"),
    ],
)
def test_what_has_no_meaning_is_refused(sun: float, wind: float, reason: str) -> None:
    with pytest.raises(ValueError, match=reason):
        cell_temperature(20.0, sun, "ground", wind)


def test_an_unknown_mounting_is_refused() -> None:
    with pytest.raises(ValueError, match="unknown mounting"):
        cell_temperature(20.0, 1000.0, "roof")  # type: ignore[arg-type]
