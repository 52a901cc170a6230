"""The sun of a reading that was taken under a clear sky, by the day, the hour and the latitude.

Nobody measured it, so it is a band: haze that still looks clear, the hour that a clock hides (time
zones and summer time put noon elsewhere), and a plane that nobody told. What glass throws back of a
low sun is taken off, but of the brightest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from wattproof.physics.clear_sky import CLEAR_AIR, CLEAREST_AIR, behind_glass, on_plane
from wattproof.plan.array import COMPASS, String
from wattproof.plan.readings import Reading
from wattproof.plan.root import Plan
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.readings import (
    CLEAR_SKY_MODEL,
    CLOCK_AHEAD,
    HAZIEST_CLEAR_AIR,
    LYING_ANYHOW,
    LYING_LEVEL,
)
from wattproof.study.readings.conditions import Band
from wattproof.study.site.lying import may_be_raised
from wattproof.working import Value, declared, function, note_read, tabled

_SKY: Final = "Ineichen and Perez 2002, doi 10.1016/S0038-092X(02)00045-2"
_LEVEL: Final = 5.0  # ° of tilt up to which it does not matter where modules face
_STEPS: Final = 5
_RAISED: Final = (0.0, 30.0, 60.0, 90.0)
"""° of tilt that modules may have that are raised nobody knows how far."""


def clear_sun(
    reading: Reading,
    strings: Iterable[String],
    plan: Plan,
    assume: Assumer,
) -> Band | None:
    """Irradiance (W/m²) in the plane of some strings under a clear sky, or after dark under any.

    None where the reading tells neither, and without a latitude. Where no height above the sea is
    told, the place lies at the sea.
    """
    latitude, height = plan.site.latitude, plan.site.height
    if latitude is None or reading.date is None or reading.time is None:
        return None
    day = reading.date.timetuple().tm_yday
    hours = _solar_hours(reading)
    planes = [plane for string in strings for plane in _planes(string, plan, assume)]
    high = height.value if height is not None else 0.0

    def over(air: float, light: Callable[..., float] = behind_glass) -> list[float]:
        angles = [15.0 * (hour - 12.0) for hour in hours]
        return [light(latitude.value, day, a, *p, air, high) for a in angles for p in planes]

    off = CLEAR_SKY_MODEL.value
    usual, brightest = over(CLEAR_AIR), over(CLEAREST_AIR, on_plane)
    if reading.sky is None and max(brightest) > 0.0:
        return None
    name, place = reading.name, declared(latitude, "φ", "latitude")
    band = Band(
        _sky((1.0 - off) * min(over(HAZIEST_CLEAR_AIR.value)), HAZIEST_CLEAR_AIR.value, place),
        _sky(sum(usual) / len(usual), CLEAR_AIR, place),
        _sky((1.0 + off) * max(brightest), CLEAREST_AIR, place),
    )
    return band.named(f"G({name})", f"clear sun at {name}", "W/m²")


def _sky(number: float, air: float, latitude: Value) -> Value:
    turbidity = tabled(air, "", "TL", "Linke turbidity of the air", _SKY)
    return function("clear sky", number, latitude, turbidity)


def _solar_hours(reading: Reading) -> list[float]:
    """Hours of the day by the sun that the clock may mean."""
    assert reading.time is not None
    written = reading.time.hours
    if reading.time.solar:
        return [written]
    least, most = CLOCK_AHEAD.value["least"], CLOCK_AHEAD.value["most"]
    return [written - least - (most - least) * step / (_STEPS - 1) for step in range(_STEPS)]


def _planes(string: String, plan: Plan, assume: Assumer) -> Iterable[tuple[float, float]]:
    """Tilt and facing (°) that a string may have."""
    name, at = str(string.name), string.at
    if string.tilt is not None:
        tilts: tuple[float, ...] = (string.tilt.value,)
    elif may_be_raised(string, plan):
        note_read(assume.noted(LYING_ANYHOW, name, at))
        tilts = _RAISED
    else:
        tilts = (assume.value(LYING_LEVEL, name, at).number,)
    if string.facing is not None:
        return [(tilt, 45.0 * COMPASS.index(string.facing)) for tilt in tilts]
    if max(tilts) <= _LEVEL:
        return [(tilt, 0.0) for tilt in tilts]
    return [(tilt, 45.0 * step) for tilt in tilts for step in range(len(COMPASS))]
