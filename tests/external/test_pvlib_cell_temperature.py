"""Cell temperatures against pvlib's King model with the parameters that it carries itself."""

import pytest
from pvlib.temperature import TEMPERATURE_MODEL_PARAMETERS, sapm_cell

from wattproof.physics.cell_temperature import MOUNTINGS, Mounting, cell_temperature

ROWS: dict[Mounting, str] = {
    "open-rack": "open_rack_glass_polymer",
    "roof-bonded": "insulated_back_glass_polymer",
}

RESTRICTED: tuple[Mounting, ...] = ("roof-gap", "ground")
"""Neither an open rack nor an insulated back: air reaches the back, but not freely."""


@pytest.mark.parametrize("mounting", RESTRICTED)
def test_restricted_air_is_that_of_the_installed_nominal_temperature(mounting: Mounting) -> None:
    """49 °C at 800 W/m², air of 20 °C and 1 m/s: NREL/TP-6A20-62641, as pvlib's documentation of
    the Fuentes model has it."""
    assert cell_temperature(20.0, 800.0, mounting, 1.0) == pytest.approx(49.0, abs=0.01)


@pytest.mark.parametrize("wind", [0.0, 1.0, 3.0, 8.0])
@pytest.mark.parametrize("mounting", RESTRICTED)
def test_restricted_air_lies_between_a_rack_and_a_close_mount(
    mounting: Mounting, wind: float
) -> None:
    rows = TEMPERATURE_MODEL_PARAMETERS["sapm"]
    rack, close = rows["open_rack_glass_polymer"], rows["close_mount_glass_glass"]
    cooler, hotter = (
        sapm_cell(1000.0, 25.0, wind, r["a"], r["b"], r["deltaT"]) for r in (rack, close)
    )
    assert cooler < cell_temperature(25.0, 1000.0, mounting, wind) < hotter


def test_every_mounting_has_a_row() -> None:
    assert set(ROWS) | set(RESTRICTED) == set(MOUNTINGS)


@pytest.mark.parametrize("mounting", list(ROWS))
@pytest.mark.parametrize("air", [-30.0, 0.0, 45.0])
@pytest.mark.parametrize("irradiance", [0.0, 200.0, 1000.0, 1200.0])
@pytest.mark.parametrize("wind", [0.0, 1.0, 8.0])
def test_reference(mounting: Mounting, air: float, irradiance: float, wind: float) -> None:
    row = TEMPERATURE_MODEL_PARAMETERS["sapm"][ROWS[mounting]]
    theirs = sapm_cell(irradiance, air, wind, row["a"], row["b"], row["deltaT"])
    assert cell_temperature(air, irradiance, mounting, wind) == pytest.approx(theirs, abs=1e-9)
