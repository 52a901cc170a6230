"""The sun over a day: night, symmetry, seasons, planes, and what a limit lets pass."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof.physics import clear_sky
from wattproof.physics.sun_position import (
    declination,
    extraterrestrial,
    plane_direction,
    sun_direction,
)

latitudes = st.floats(-89.0, 89.0)
days = st.integers(1, 365)
hour_angles = st.floats(-180.0, 180.0)


@given(latitudes, days, hour_angles)
def test_directions_are_of_length_one(latitude: float, day: int, hour: float) -> None:
    sun = sun_direction(latitude, day, hour)
    assert sun.cosine_to(sun) == pytest.approx(1.0)


def test_the_sun_rises_in_the_east_and_stands_south_of_northern_places_at_noon() -> None:
    morning, noon = sun_direction(47.0, 80, -60.0), sun_direction(47.0, 80, 0.0)
    assert morning.east > 0.5
    assert noon.east == pytest.approx(0.0, abs=1e-12)
    assert noon.north < 0.0
    assert sun_direction(-33.0, 80, 0.0).north > 0.0


@given(latitudes, days, hour_angles, st.floats(0.0, 90.0), st.floats(0.0, 360.0))
def test_light_on_a_plane(lat: float, day: int, hour: float, tilt: float, azimuth: float) -> None:
    light = clear_sky.on_plane(lat, day, hour, tilt, azimuth, clear_sky.CLEAREST_AIR)
    assert 0.0 <= light < extraterrestrial(day)
    if sun_direction(lat, day, hour).up <= 0.0:
        assert light == 0.0


def test_a_level_plane_has_no_azimuth_and_the_equator_no_favourite_hemisphere() -> None:
    one, other = (clear_sky.sun_hours(47.0, 12, 0.0, azimuth) for azimuth in (0.0, 135.0))
    assert one == pytest.approx(other)
    north, south = (clear_sky.sun_hours(0.0, 3, 20.0, azimuth) for azimuth in (0.0, 180.0))
    assert north == pytest.approx(south, rel=0.05)  # on 16 March
    east, west = (clear_sky.sun_hours(47.0, 3, 60.0, azimuth) for azimuth in (90.0, 270.0))
    assert east == pytest.approx(west)


def test_winter_brings_a_fifth_of_summer_on_level_modules_between_45_and_50_degrees() -> None:
    """Common practice says a fifth to a third, of winter; December alone is at the lower end."""
    for latitude in (45.0, 47.5, 50.0):
        winter, summer = (
            sum(clear_sky.sun_hours(latitude, month, 0.0, 0.0) for month in months)
            for months in ((12, 1, 2), (6, 7, 8))
        )
        assert 0.18 < winter / summer < 0.33


def test_the_best_tilt_is_steep_in_winter_and_turns_with_the_hemisphere() -> None:
    tilt, hours = clear_sky.best_tilt(47.0, 12)
    assert tilt == pytest.approx(47.0 + 23.0, abs=5.0)
    assert hours > 2.5 * clear_sky.sun_hours(47.0, 12, 0.0, 180.0)
    assert clear_sky.best_tilt(-33.0, 12)[0] == 0.0
    assert clear_sky.best_tilt(-33.0, 6)[0] >= 50.0


@pytest.mark.parametrize("latitude", [-33.0, 47.0, 62.0])
def test_the_evening_is_the_morning_mirrored(latitude: float) -> None:
    """A clear day is alike on both sides of noon: east gets what west does."""
    for tilt in (20.0, 60.0, 90.0):
        east, west = (clear_sky.sun_hours(latitude, 6, tilt, way) for way in (90.0, 270.0))
        assert east == pytest.approx(west, rel=1e-9)


def test_the_polar_night_is_dark() -> None:
    assert clear_sky.clear_light(0.0, 1361.0, 3.0) == clear_sky.Light(0.0, 0.0, 0.0)
    assert clear_sky.sun_hours(75.0, 12, 60.0, 180.0) == 0.0


@pytest.mark.parametrize("ratio", [0.0, 0.1, 0.5, 0.9, 0.999])
def test_what_a_limit_lets_pass_of_half_a_sine(ratio: float) -> None:
    steps = 100_000
    curve = [math.sin(math.pi * (i + 0.5) / steps) for i in range(steps)]
    expected = sum(min(ratio, y) for y in curve) / sum(curve)
    assert clear_sky.kept_under_limit(ratio) == pytest.approx(expected, abs=1e-6)
    assert clear_sky.kept_under_limit(1.0) == clear_sky.kept_under_limit(2.0) == 1.0


class TestHandbook:
    """Worked examples of Duffie and Beckman, Solar Engineering of Thermal Processes, chapter 1.

    The figures are from memory. They use the declination of Cooper (1969), which is up to half a
    degree from ours.
    """

    def test_declination_on_13_february(self) -> None:
        assert declination(44) == pytest.approx(-14.0, abs=0.5)

    def test_incidence_on_a_raised_plane(self) -> None:
        """43° N, 13 February at 10:30, 45° steep and 15° west of south: 35°."""
        sun, plane = sun_direction(43.0, 44, -22.5), plane_direction(45.0, 195.0)
        assert math.degrees(math.acos(plane.cosine_to(sun))) == pytest.approx(35.0, abs=0.6)

    @pytest.mark.parametrize(
        ("day", "hour_angle", "zenith", "from_south"),
        [(44, -37.5, 66.5, -40.0), (182, 97.5, 79.6, 112.0)],
    )
    def test_height_and_azimuth(
        self, day: int, hour_angle: float, zenith: float, from_south: float
    ) -> None:
        """43° N, 13 February at 9:30 and 1 July at 18:30."""
        sun = sun_direction(43.0, day, hour_angle)
        assert math.degrees(math.acos(sun.up)) == pytest.approx(zenith, abs=0.6)
        azimuth = math.degrees(math.atan2(-sun.east, -sun.north))
        assert azimuth == pytest.approx(from_south, abs=0.6)

    def test_light_outside_the_air_in_a_day(self) -> None:
        """43° N, 15 April: 33.8 MJ/m², with 1367 W/m²."""
        sines = [max(sun_direction(43.0, 105, x / 4).up, 0.0) for x in range(-720, 720)]
        joules = extraterrestrial(105) * sum(sines) * 60.0
        assert joules * 1367.0 / 1361.0 == pytest.approx(33.8e6, rel=0.01)


def test_on_the_equator_the_plane_leans_towards_the_south() -> None:
    """In December the sun stands 23° south of it at noon, in June as far north."""
    assert clear_sky.best_tilt(0.0, 12)[0] >= 20.0
    assert clear_sky.best_tilt(0.0, 6)[0] == 0.0


@pytest.mark.parametrize(
    ("latitude", "month", "azimuth"), [(47.0, 12, 180.0), (0.0, 3, 180.0), (-33.0, 6, 0.0)]
)
def test_the_best_tilt_is_the_best_of_all_in_steps_of_five(
    latitude: float, month: int, azimuth: float
) -> None:
    """From flat to upright, towards the equator."""
    tried = {
        float(tilt): clear_sky.sun_hours(latitude, month, float(tilt), azimuth)
        for tilt in range(0, 95, 5)
    }
    best = max(tried, key=lambda tilt: tried[tilt])
    assert clear_sky.best_tilt(latitude, month) == (best, tried[best])


@pytest.mark.parametrize("tilt", [0.0, 30.0, 90.0])
def test_irradiance_on_a_plane_at_noon_by_hand(tilt: float) -> None:
    """At noon the sun stands at 90° - latitude + declination; the plane leans towards it."""
    declined = math.radians(declination(80))
    latitude, lean = math.radians(47.0), math.radians(tilt)
    up = math.cos(latitude - declined)
    light = clear_sky.clear_light(up, clear_sky.extraterrestrial(80), 3.0, 500.0)
    by_hand = (
        light.beam * math.cos(latitude - declined - lean)
        + light.sky * (1.0 + math.cos(lean)) / 2.0
        + light.level * 0.2 * (1.0 - math.cos(lean)) / 2.0
    )
    found = clear_sky.on_plane(47.0, 80, 0.0, tilt, 180.0, 3.0, 500.0)
    assert found == pytest.approx(by_hand, rel=1e-9)


@pytest.mark.parametrize(("height", "mass"), [(90.0, 0.9997), (30.0, 1.9943), (0.0, 37.92)])
def test_the_air_mass_of_kasten_and_young(height: float, mass: float) -> None:
    """Applied Optics 28 (1989) 4735; the figures are from memory."""
    assert clear_sky._air_mass(math.sin(math.radians(height))) == pytest.approx(mass, rel=5e-4)
    assert clear_sky._air_mass(math.nextafter(1.0, 2.0)) == pytest.approx(0.9997, abs=1e-4)


@pytest.mark.parametrize("month", [1, 6, 12])
def test_the_brightest_moment_is_that_of_the_month_s_own_day(month: int) -> None:
    """Every ten minutes of the day that stands for it, from five minutes past midnight on."""
    day = clear_sky.MIDDLE_DAYS[month - 1]
    angles = [-180.0 + 2.5 * (step + 0.5) for step in range(144)]
    tried = [
        clear_sky.on_plane(47.0, day, angle, 30.0, 180.0, clear_sky.CLEAR_AIR, 800.0)
        for angle in angles
    ]
    assert clear_sky.brightest_moment(47.0, month, 30.0, 180.0, 800.0) == pytest.approx(max(tried))
    hours = sum(tried) / 1000.0 / 6.0
    assert clear_sky.sun_hours(47.0, month, 30.0, 180.0, height=800.0) == pytest.approx(hours)


def test_a_little_north_of_the_equator_the_sun_of_december_is_south() -> None:
    assert clear_sky.best_tilt(0.5, 12)[0] > 0.0
    assert clear_sky.best_tilt(-0.5, 12)[0] == 0.0


def test_how_far_the_sun_is_by_the_series_of_its_year() -> None:
    """J. W. Spencer, "Fourier series representation of the position of the sun" (1971)."""
    for day in (1, 46, 140, 290):
        a = 2.0 * math.pi * (day - 1) / 365.0
        series = 1.00011 + 0.034221 * math.cos(a) + 0.00128 * math.sin(a)
        series += 0.000719 * math.cos(2.0 * a) + 0.000077 * math.sin(2.0 * a)
        assert extraterrestrial(day) == pytest.approx(1361.0 * series, rel=1e-9)


def test_glass_throws_back_what_falls_at_a_slant() -> None:
    """5 % of the beam at 60° from straight on, by 1 - 0.05 (1/cos 60° - 1); nothing straight on."""
    light = clear_sky.clear_light(sun_direction(52.0, 172, 0.0).up, extraterrestrial(172), 3.0)
    up = sun_direction(52.0, 172, 0.0).up
    tilt = math.degrees(math.acos(up))
    straight = (52.0, 172, 0.0, tilt, 180.0, 3.0)
    assert clear_sky.behind_glass(*straight) == pytest.approx(clear_sky.on_plane(*straight))
    slant = (52.0, 172, 0.0, tilt - 60.0, 180.0, 3.0)
    lost = clear_sky.on_plane(*slant) - clear_sky.behind_glass(*slant)
    assert lost == pytest.approx(0.05 * 0.5 * light.beam, rel=1e-6)
    night = (52.0, 172, 180.0, 0.0, 180.0, 3.0)
    assert clear_sky.behind_glass(*night) == 0.0
