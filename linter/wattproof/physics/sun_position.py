"""Where the sun stands, by latitude, day of the year and hour angle.

Source: J. W. Spencer, "Fourier series representation of the position of the sun", Search 2 (1971)
172, for declination and distance; the rest is spherical trigonometry. Angles in degrees; latitude
north positive; the hour angle is 0 at solar noon and grows by 15° an hour. Refraction is left out.
"""

import math
from typing import NamedTuple

SOLAR_CONSTANT = 1361.0
"""W/m² facing the sun at mean distance (Kopp and Lean 2011, doi 10.1029/2010GL045777)."""


class Direction(NamedTuple):
    """A unit vector: how far it points east, north and up."""

    east: float
    north: float
    up: float

    def cosine_to(self, other: "Direction") -> float:
        """The cosine of the angle between two directions."""
        return self.east * other.east + self.north * other.north + self.up * other.up


def declination(day: int) -> float:
    """Declination of the sun (°) on a day of the year, from 1."""
    a = _day_angle(day)
    return math.degrees(
        0.006918
        - 0.399912 * math.cos(a)
        + 0.070257 * math.sin(a)
        - 0.006758 * math.cos(2 * a)
        + 0.000907 * math.sin(2 * a)
        - 0.002697 * math.cos(3 * a)
        + 0.00148 * math.sin(3 * a)
    )


def extraterrestrial(day: int) -> float:
    """Irradiance (W/m²) outside the air on a plane facing the sun, on a day of the year, from 1."""
    a = _day_angle(day)
    return SOLAR_CONSTANT * (
        1.00011
        + 0.034221 * math.cos(a)
        + 0.00128 * math.sin(a)
        + 0.000719 * math.cos(2 * a)
        + 0.000077 * math.sin(2 * a)
    )


def sun_direction(latitude: float, day: int, hour_angle: float) -> Direction:
    """The direction of the sun at a latitude (°), day of the year and hour angle (°)."""
    place, height, turn = (math.radians(x) for x in (latitude, declination(day), hour_angle))
    return Direction(
        -math.cos(height) * math.sin(turn),
        math.cos(place) * math.sin(height) - math.sin(place) * math.cos(height) * math.cos(turn),
        math.sin(place) * math.sin(height) + math.cos(place) * math.cos(height) * math.cos(turn),
    )


def plane_direction(tilt: float, azimuth: float) -> Direction:
    """What a plane faces: tilt (°) from level, azimuth (°) clockwise from north."""
    slope, turn = math.radians(tilt), math.radians(azimuth)
    return Direction(
        math.sin(slope) * math.sin(turn), math.sin(slope) * math.cos(turn), math.cos(slope)
    )


def _day_angle(day: int) -> float:
    return 2.0 * math.pi * (day - 1) / 365.0
