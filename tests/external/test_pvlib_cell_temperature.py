"""Cell temperatures against pvlib's King model with the parameters that it carries itself."""

import pytest
from pvlib.temperature import TEMPERATURE_MODEL_PARAMETERS, sapm_cell

from wattproof.physics.cell_temperature import MOUNTINGS, Mounting, cell_temperature

ROWS: dict[Mounting, str] = {
    "open-rack": "open_rack_glass_polymer",
    "roof-gap": "close_mount_glass_glass",
    "roof-bonded": "insulated_back_glass_polymer",
    "ground": "insulated_back_glass_polymer",
}


def test_every_mounting_has_a_row() -> None:
    assert set(ROWS) == set(MOUNTINGS)


@pytest.mark.parametrize("mounting", list(MOUNTINGS))
@pytest.mark.parametrize("air", [-30.0, 0.0, 45.0])
@pytest.mark.parametrize("irradiance", [0.0, 200.0, 1000.0, 1200.0])
@pytest.mark.parametrize("wind", [0.0, 1.0, 8.0])
def test_reference(mounting: Mounting, air: float, irradiance: float, wind: float) -> None:
    row = TEMPERATURE_MODEL_PARAMETERS["sapm"][ROWS[mounting]]
    theirs = sapm_cell(irradiance, air, wind, row["a"], row["b"], row["deltaT"])
    assert cell_temperature(air, irradiance, mounting, wind) == pytest.approx(theirs, abs=1e-9)
