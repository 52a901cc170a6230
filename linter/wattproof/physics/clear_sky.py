"""What a plane receives under a sky without clouds: a ceiling that real days seldom reach.

Source: P. Ineichen and R. Perez, "A new airmass independent formulation for the Linke turbidity
coefficient", Solar Energy 73 (2002) 151-157, doi 10.1016/S0038-092X(02)00045-2, with their terms
of the height above the sea and the air mass of Kasten and Young 1989 (Applied Optics 28,
4735-4738), thinned by the pressure of the standard atmosphere (ISO 2533:1975); on a tilted plane
with an evenly bright sky, by Liu and Jordan 1963 (Solar Energy 7, 53-74).
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

from wattproof.physics.sun_position import (
    Direction,
    extraterrestrial,
    plane_direction,
    sun_direction,
)

CLEAR_AIR = 3.0
"""Linke turbidity of usual clear air: how many airs, clean and dry, would dim the sun as much."""

CLEAREST_AIR = 2.0
"""Linke turbidity of very clear cold air."""

GROUND_REFLECTS = 0.2
"""Share of the light that grass or soil sends back (Liu and Jordan 1963)."""

ONE_PANE = 0.05
"""How much a pane of glass throws back at a slant (ANSI/ASHRAE 93-2010, from memory)."""

MIDDLE_DAYS = (17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344)
"""The day of the year that stands for each month (S. A. Klein 1977, Solar Energy 19, 325-329)."""

_STEP = 2.5  # degrees of hour angle: ten minutes


class Light(NamedTuple):
    """Irradiance (W/m²): on the level, straight from the sun, and from the sky onto the level."""

    level: float
    beam: float
    sky: float


def clear_light(up: float, outside: float, turbidity: float, height: float = 0.0) -> Light:
    """Light under a clear sky.

    up: sine of the sun's height. outside: irradiance beyond the air (W/m²). turbidity: of Linke.
    height: of the place above the sea (m).
    """
    if up <= 0.0:
        return Light(0.0, 0.0, 0.0)
    mass = _air_mass(up) * thinner(height)
    near, far = math.exp(-height / 8000.0), math.exp(-height / 1250.0)
    dims = (3.92e-5 * height + 0.0387) * mass * (near + far * (turbidity - 1.0))
    level = (5.09e-5 * height + 0.868) * outside * up * math.exp(-dims)
    beam = outside * (0.664 + 0.163 / near) * math.exp(-0.09 * mass * (turbidity - 1.0))
    most = level * (1.0 - (0.1 - 0.2 * math.exp(-turbidity)) / (0.1 + 0.882 / near)) / up
    beam = min(beam, most)
    return Light(level, beam, level - beam * up)


def thinner(height: float) -> float:
    """Pressure of the air at a height above the sea (m) over that at the sea (ISO 2533:1975)."""
    return float((1.0 - 2.25577e-5 * height) ** 5.25588)


def on_plane(
    latitude: float,
    day: int,
    hour_angle: float,
    tilt: float,
    azimuth: float,
    turbidity: float,
    height: float = 0.0,
) -> float:
    """Irradiance (W/m²) on a plane under a clear sky.

    latitude: °, north positive. day: of the year. hour_angle: °, 0 at solar noon. tilt: ° from
    level. azimuth: ° clockwise from north. turbidity: of Linke. height: above the sea (m).
    """
    return _received(*_lit(latitude, day, hour_angle, tilt, azimuth, turbidity, height))


def behind_glass(
    latitude: float,
    day: int,
    hour_angle: float,
    tilt: float,
    azimuth: float,
    turbidity: float,
    height: float = 0.0,
) -> float:
    """The same as cells behind glass take it in (W/m²), which throws back what falls at a slant.

    Labels are read with the sun straight before the module. Arguments as of `on_plane`. Source:
    the incidence angle modifier of ANSI/ASHRAE 93-2010, from memory, with 0.05 for one pane.
    """
    plane, sun, light = _lit(latitude, day, hour_angle, tilt, azimuth, turbidity, height)
    return _received(plane, sun, light._replace(beam=light.beam * _let_through(plane, sun)))


def _lit(
    latitude: float,
    day: int,
    hour_angle: float,
    tilt: float,
    azimuth: float,
    turbidity: float,
    height: float,
) -> tuple[Direction, Direction, Light]:
    """Where a plane and the sun point to, and the light of a clear sky."""
    sun = sun_direction(latitude, day, hour_angle)
    light = clear_light(sun.up, extraterrestrial(day), turbidity, height)
    return plane_direction(tilt, azimuth), sun, light


def _let_through(plane: Direction, sun: Direction) -> float:
    """Share of the beam that one pane lets through, of what it lets through straight on."""
    cosine = plane.cosine_to(sun)
    return max(1.0 - ONE_PANE * (1.0 / cosine - 1.0), 0.0) if cosine > 0.0 else 0.0


def sun_hours(
    latitude: float,
    month: int,
    tilt: float,
    azimuth: float,
    turbidity: float = CLEAR_AIR,
    height: float = 0.0,
) -> float:
    """Hours of 1000 W/m² that a clear day in the middle of a month (1 to 12) brings to a plane.

    Arguments as of `on_plane`.
    """
    day = MIDDLE_DAYS[month - 1]
    return day_hours(latitude, day, tilt, azimuth, turbidity, height)


@lru_cache(maxsize=4096)
def day_hours(
    latitude: float, day: int, tilt: float, azimuth: float, turbidity: float, height: float = 0.0
) -> float:
    """Hours of 1000 W/m² that a clear day of the year brings to a plane. As of `on_plane`."""
    rates = _over_the_day(latitude, day, tilt, azimuth, turbidity, height)
    return sum(rates) / 1000.0 * _STEP / 15.0


@lru_cache(maxsize=4096)
def brightest_moment(
    latitude: float, month: int, tilt: float, azimuth: float, height: float = 0.0
) -> float:
    """The largest irradiance (W/m²) of a clear day on a plane. Arguments as of `on_plane`."""
    day = MIDDLE_DAYS[month - 1]
    return max(_over_the_day(latitude, day, tilt, azimuth, CLEAR_AIR, height))


@lru_cache(maxsize=256)
def best_tilt(
    latitude: float, month: int, turbidity: float = CLEAR_AIR, height: float = 0.0
) -> tuple[float, float]:
    """The tilt (°, in steps of 5) towards the equator that a clear day favours; its sun hours."""
    azimuth = 180.0 if latitude >= 0.0 else 0.0
    tilts = [float(tilt) for tilt in range(0, 91, 5)]
    found = [sun_hours(latitude, month, tilt, azimuth, turbidity, height) for tilt in tilts]
    best = found.index(max(found))
    return tilts[best], found[best]


def kept_under_limit(ratio: float) -> float:
    """Share of a clear day's energy that a limit lets pass.

    ratio: the limit over the power at noon. The power follows half a sine from morning to evening,
    so that the share is 1 - sqrt(1 - r²) + r arccos(r); 1 from a ratio of 1.
    """
    ratio = min(ratio, 1.0)
    return 1.0 - math.sqrt(1.0 - ratio * ratio) + ratio * math.acos(ratio)


def _over_the_day(
    latitude: float, day: int, tilt: float, azimuth: float, turbidity: float, height: float
) -> list[float]:
    """Irradiance (W/m²) on a plane at each step of a day of the year."""
    plane = plane_direction(tilt, azimuth)
    course = _course(latitude, day, turbidity, height)
    return [_received(plane, sun, light) for sun, light in course]


@lru_cache(maxsize=256)
def _course(
    latitude: float, day: int, turbidity: float, height: float
) -> tuple[tuple[Direction, Light], ...]:
    """Sun and light at each step of a day of the year, for planes of every kind."""
    outside = extraterrestrial(day)
    angles = (_STEP * (step + 0.5) for step in range(round(360.0 / _STEP)))
    suns = [sun_direction(latitude, day, angle) for angle in angles]
    return tuple((sun, clear_light(sun.up, outside, turbidity, height)) for sun in suns)


def _received(plane: Direction, sun: Direction, light: Light) -> float:
    """Irradiance (W/m²) on a plane: straight from the sun, from the sky, and from the ground."""
    beam = light.beam * max(plane.cosine_to(sun), 0.0)
    sky = light.sky * (1.0 + plane.up) / 2.0
    ground = light.level * GROUND_REFLECTS * (1.0 - plane.up) / 2.0
    return beam + sky + ground


def _air_mass(up: float) -> float:
    height = math.degrees(math.asin(min(up, 1.0)))
    return float(1.0 / (up + 0.50572 * (height + 6.07995) ** -1.6364))
