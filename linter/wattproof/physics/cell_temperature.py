"""How hot cells become, from air temperature, irradiance, wind and mounting.

    Tm = Ta + G exp(a + b w);   Tc = Tm + G / 1000 W/m2 * dT

Tm is the temperature of the module's back, Tc that of its cells, Ta of the air (°C), G the
irradiance in the module's plane (W/m2), w the wind at 10 m height (m/s).

Sources: D. L. King, W. E. Boyson, J. A. Kratochvil, "Photovoltaic array performance model",
Sandia National Laboratories report SAND2004-3535 (2004), equations 11 and 12 and table 1;
for a gap over a roof M. K. Fuentes, "A simplified thermal model for flat-plate photovoltaic
arrays", SAND85-0330 (1987), with the installed nominal temperature of 49 °C that
A. P. Dobos, NREL/TP-6A20-62641 (2014), takes for roofs with restricted air (both as the
documentation of pvlib's `temperature.fuentes` has them). A gap of 25 mm is hotter (King's
close mount: 48 K over air), one of 150 mm as cool as a rack (29 K).
"""

import math
from typing import Literal, NamedTuple

Mounting = Literal["open-rack", "roof-gap", "roof-bonded", "ground"]

REFERENCE_WIND = 1.0  # m/s, nearly still air: the wind speed of the nominal operating temperature


class MountingParameters(NamedTuple):
    """a and b (s/m) of the exponent, and dT (K) between cell and back at 1000 W/m2."""

    intercept: float
    wind_slope: float
    cell_to_back: float


MOUNTINGS: dict[Mounting, MountingParameters] = {
    # Glass, cell, polymer sheet; open rack: air on both sides.
    "open-rack": MountingParameters(-3.56, -0.0750, 3.0),
    # A gap of some centimetres over a roof: installed nominal temperature of 49 °C (800 W/m2, air
    # of 20 °C, 1 m/s), which is 36.25 K over air in full sun; cooled by wind as in an open rack.
    "roof-gap": MountingParameters(-3.3287, -0.0750, 3.0),
    # Glass, cell, polymer sheet; insulated back: the nearest published row to a sheet on a skin.
    "roof-bonded": MountingParameters(-2.81, -0.0455, 0.0),
    # Propped or laid on the ground: no published row; restricted air behind it, as over a roof.
    "ground": MountingParameters(-3.3287, -0.0750, 3.0),
}


def cell_temperature(
    air_temperature: float,
    irradiance: float,
    mounting: Mounting,
    wind: float = REFERENCE_WIND,
) -> float:
    """Return the temperature of the cells (°C).

    `air_temperature` in °C, `irradiance` in W/m2, `wind` in m/s; ValueError where one of the last
    two is negative or not finite, or where the mounting has no parameters. A roof or ground that
    is itself hotter than the air is not part of the model.
    """
    if not 0.0 <= irradiance < math.inf:
        raise ValueError("irradiance must be finite and not negative")
    if not 0.0 <= wind < math.inf:
        raise ValueError("wind must be finite and not negative")
    if mounting not in MOUNTINGS:
        raise ValueError(f"unknown mounting {mounting!r}; known: {', '.join(MOUNTINGS)}")
    row = MOUNTINGS[mounting]
    back = air_temperature + irradiance * math.exp(row.intercept + row.wind_slope * wind)
    return back + irradiance / 1000.0 * row.cell_to_back
