"""The points of a curve: from short circuit to open circuit, all maxima among them."""

from __future__ import annotations

from itertools import pairwise

import pytest

from plans import BASE, edited
from wattproof.physics.curve import Curve, Maximum, current_at, maxima
from wattproof.study.curves.curves import CURVE_STATES
from wattproof.study.curves.points import COUNT, sampled
from wattproof.testing import study_of

STEPPED = Curve([-5.0, 0.0, 20.0, 22.0, 40.0, 44.0, 60.0], [12.0, 10.0, 9.5, 5.2, 5.0, 0.0, -20.0])


def test_from_short_to_open_circuit_exactly() -> None:
    points = sampled(STEPPED)
    assert points[0] == (0.0, 10.0)
    assert points[-1] == (44.0, 0.0)
    assert len(points) == COUNT


def test_voltage_rises_and_current_falls_along_the_curve() -> None:
    for (volts, amps), (more_volts, fewer_amps) in pairwise(sampled(STEPPED, maxima(STEPPED))):
        assert volts < more_volts
        assert amps > fewer_amps
    for volts, amps in sampled(STEPPED):
        assert amps == pytest.approx(current_at(STEPPED, volts), abs=1e-9)


def test_every_maximum_is_a_point() -> None:
    tops = maxima(STEPPED)
    assert len(tops) == 2
    points = sampled(STEPPED, tops)
    assert {(top.voltage, top.current) for top in tops} <= set(points)


def test_a_maximum_at_a_point_is_kept_once() -> None:
    at_end_of_step = Maximum(44.0, 0.0, 0.0)
    assert sampled(STEPPED, [at_end_of_step]) == sampled(STEPPED)


def test_no_points_in_darkness() -> None:
    assert sampled(Curve([-10.0, 0.0, 10.0], [5.0, 0.0, -5.0])) == ()


@pytest.mark.parametrize("state", CURVE_STATES)
def test_points_of_a_study_are_smooth_and_hold_its_maximum(state: str) -> None:
    [curves] = study_of(BASE).curves.curves
    points = curves.points(state)  # type: ignore[arg-type]
    voltage, current, _ = curves.maximum(state)  # type: ignore[arg-type]
    assert (voltage.number, current.number) in points
    assert COUNT <= len(points) <= COUNT + len(curves.maxima(state))  # type: ignore[arg-type]
    last, first = points[-1][0], points[0][1]
    for (a, b), (c, d) in pairwise(points):
        assert (c - a) / last < 0.02
        assert (b - d) / first < 0.02


def test_unlike_modules_with_bypass_diodes_have_two_maxima() -> None:
    plan = edited(
        ("rigid-100: {", "rigid-50: {voc: 24.3 V, vmp: 20.4 V, isc: 2.6 A, imp: 2.45 A, "
         "bypass_diodes: 2, max_series_fuse: 15 A}\n    rigid-100: {bypass_diodes: 2, "),
        ("{module: rigid-100, series: 3,", "{modules: [rigid-100, rigid-100, rigid-50],"),
    )  # fmt: skip
    [curves] = study_of(plan).curves.curves
    tops = curves.maxima("standard")
    assert len(tops) == 2
    assert {(top.voltage, top.current) for top in tops} <= set(curves.points("standard"))
