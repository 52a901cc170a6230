"""The sun and the clear sky against pvlib: positions, irradiance, and whole days on a plane.

pvlib carries Spencer's declination, the sky of Ineichen and Perez, and an evenly bright sky on a
tilted plane itself; its positions of the sun are NREL's algorithm (Reda and Andreas 2004), which
is good to a thousandth of a degree.
"""

from __future__ import annotations

import math

import numpy as np
import pandas as pd
import pytest
from pvlib import atmosphere, clearsky, irradiance, solarposition

from wattproof.physics import clear_sky
from wattproof.physics.sun_position import declination, extraterrestrial, sun_direction

YEAR = 2023
DAYS = [1, 46, 80, 135, 172, 228, 265, 318, 355]
LATITUDES = [-45.0, -23.0, 0.0, 35.0, 47.5, 60.0]


@pytest.mark.parametrize("day", DAYS)
def test_declination_is_the_formula_of_spencer(day: int) -> None:
    theirs = math.degrees(solarposition.declination_spencer71(day))
    assert declination(day) == pytest.approx(theirs, abs=1e-4)


@pytest.mark.parametrize("day", DAYS)
def test_light_outside_the_air(day: int) -> None:
    theirs = irradiance.get_extra_radiation(day, solar_constant=1361.0, method="spencer")
    assert extraterrestrial(day) == pytest.approx(float(theirs), rel=1e-5)


def minutes(day: int) -> pd.DatetimeIndex:
    start = pd.Timestamp(YEAR, 1, 1, tz="UTC") + pd.Timedelta(days=day - 1)
    return pd.date_range(start, periods=1440, freq="1min")


@pytest.mark.parametrize("latitude", LATITUDES)
@pytest.mark.parametrize("day", DAYS)
def test_height_and_azimuth_of_the_sun(latitude: float, day: int) -> None:
    """Within 0.6°: the declination of a day is held from morning to evening, and leap years."""
    times = minutes(day)[::30]
    theirs = solarposition.get_solarposition(times, latitude, 0.0)
    shift = solarposition.equation_of_time_spencer71(day) / 60.0
    for moment, row in theirs.iterrows():
        hour = moment.hour + moment.minute / 60.0 + shift
        sun = sun_direction(latitude, day, 15.0 * (hour - 12.0))
        height, turn = math.radians(row.elevation), math.radians(row.azimuth)
        east, north = math.cos(height) * math.sin(turn), math.cos(height) * math.cos(turn)
        apart = east * sun.east + north * sun.north + math.sin(height) * sun.up
        assert math.degrees(math.acos(min(apart, 1.0))) < 0.6


@pytest.mark.parametrize("turbidity", [2.0, 3.0, 5.0])
@pytest.mark.parametrize("height", [2.0, 10.0, 30.0, 60.0, 90.0])
@pytest.mark.parametrize("above", [0.0, 620.0, 1800.0, 4000.0])
def test_light_under_a_clear_sky(turbidity: float, height: float, above: float) -> None:
    """The same formulas, so to rounding; their pressure of the air at a height is pvlib's."""
    zenith = 90.0 - height
    mass = atmosphere.get_relative_airmass(zenith, model="kastenyoung1989")
    mass = atmosphere.get_absolute_airmass(mass, atmosphere.alt2pres(above))
    theirs = clearsky.ineichen(zenith, mass, turbidity, above, dni_extra=1361.0)
    ours = clear_sky.clear_light(math.sin(math.radians(height)), 1361.0, turbidity, above)
    assert ours.level == pytest.approx(float(theirs["ghi"]), rel=2e-4)
    assert ours.beam == pytest.approx(float(theirs["dni"]), rel=2e-4)
    assert ours.sky == pytest.approx(float(theirs["dhi"]), rel=2e-3)


@pytest.mark.parametrize("latitude", LATITUDES)
@pytest.mark.parametrize("month", [1, 3, 6, 10, 12])
@pytest.mark.parametrize(
    ("tilt", "azimuth"), [(0.0, 180.0), (30.0, 180.0), (60.0, 135.0), (90.0, 0.0)]
)
def test_sun_hours_of_a_day(latitude: float, month: int, tilt: float, azimuth: float) -> None:
    """Within 4 % or 0.03 h: the low winter sun feels that a day keeps one declination."""
    day = clear_sky.MIDDLE_DAYS[month - 1]
    times = minutes(day)
    sun = solarposition.get_solarposition(times, latitude, 0.0)
    mass = atmosphere.get_relative_airmass(sun.zenith, model="kastenyoung1989")
    outside = irradiance.get_extra_radiation(day, solar_constant=1361.0)
    sky = clearsky.ineichen(sun.zenith, mass, 3.0, 0.0, dni_extra=outside).fillna(0.0)
    plane = irradiance.get_total_irradiance(
        tilt, azimuth, sun.zenith, sun.azimuth, sky.dni, sky.ghi, sky.dhi, albedo=0.2
    )
    theirs = float(np.nansum(plane.poa_global)) / 60.0 / 1000.0
    ours = clear_sky.sun_hours(latitude, month, tilt, azimuth)
    assert ours == pytest.approx(theirs, rel=0.04, abs=0.03)
