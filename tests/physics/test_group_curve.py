"""How the table of a bypass group is chosen: equal steps of the root of the diode's current."""

import itertools
import math

import pytest

from wattproof.physics.group_curve import REACH, _diode_voltages
from wattproof.physics.single_diode import Diode, short_circuit_current


@pytest.mark.parametrize("series_resistance", [0.0, 0.18])
def test_the_error_of_a_line_between_two_points_is_what_may_be_missed(
    series_resistance: float,
) -> None:
    """Between roots r and r + s of its current a line misses an exponential by a current s² / 2.

    That may be two millionths of 1 A and the short-circuit current, fed of what is fed twice more;
    a resistance in series bends the curve less.
    """
    diode = Diode(5.9, 1.2e-11, series_resistance, 60.0, 0.838)
    ideality = diode.modified_ideality
    first = -0.5
    voltages = [first, *_diode_voltages(diode, first)]
    roots = [math.sqrt(1.2e-11) * math.exp(0.5 * v / ideality) for v in voltages]
    scale = 1.0 + short_circuit_current(diode)
    for root, following in itertools.pairwise(roots):
        amps = root * root
        fed = max(amps - 5.9, 0.0)
        spread = 1.0 + series_resistance * amps / ideality
        allowed = 2e-6 * (scale + 2.0 * fed) * spread
        assert (following - root) ** 2 / 2.0 == pytest.approx(allowed, rel=1e-6)
    assert roots[-2] ** 2 < REACH == 1e4 <= roots[-1] ** 2
