"""The curve of one bypass group as a table, closer where it bends.

The points are chosen in advance, without trial: the diode's current is I0 exp(Vd / a), so equal
steps of its square root keep the error of a straight line between two points equal.
"""

import math
from dataclasses import replace

from wattproof.physics.curve import Curve, thinned
from wattproof.physics.elements import Cells
from wattproof.physics.single_diode import (
    Diode,
    current_at,
    current_at_diode_voltage,
    open_circuit_voltage,
    short_circuit_current,
)

REACH = 1e4  # A, how far tables go beyond what cells deliver, both ways
CONDUCTING_SLOPE = 1e-6  # ohm, of a conducting bypass diode, so that the curve falls strictly
LEAKAGE = 1e-9  # S across every group, for the same reason

_CHORD_ERROR = 2e-6  # share of the current scale between a line and the curve under it
_LARGEST_REVERSE_VOLTAGE = 1e4  # V, where no limit is known


def group_curve(cells: Cells) -> Curve:
    """Return the curve of `cells` with their bypass diode, from far reverse to far forward.

    Errors of current stay below 5e-6 of (1 A + short-circuit current), and where the group is fed
    from outside below a further 1.2e-5 of that current.
    """
    own = cells.diode
    diode = replace(own, shunt_resistance=1.0 / (1.0 / own.shunt_resistance + LEAKAGE))
    limit = min(cells.bypass_drop or math.inf, cells.reverse_limit, _LARGEST_REVERSE_VOLTAGE)
    at_limit = current_at(diode, -limit)
    voltages = [-limit - CONDUCTING_SLOPE * REACH, -limit]
    currents = [at_limit + REACH, at_limit]
    open_circuit = open_circuit_voltage(diode)
    first = -limit + at_limit * diode.series_resistance
    for diode_voltage in sorted([*_diode_voltages(diode, first), open_circuit]):
        current = current_at_diode_voltage(diode, diode_voltage)
        if diode_voltage == open_circuit:
            current = 0.0
        voltages.append(diode_voltage - current * diode.series_resistance)
        currents.append(current)
    return thinned(Curve(voltages, currents))


def _diode_voltages(diode: Diode, first: float) -> list[float]:
    """Return voltages across the diode (V), rising from above `first` until it takes REACH."""
    scale = 1.0 + short_circuit_current(diode)
    ideality = diode.modified_ideality
    halved_log = 0.5 * math.log(diode.saturation_current)
    root = math.exp(halved_log + 0.5 * first / ideality)  # square root of the diode's current
    found = []
    while root * root < REACH:
        current = root * root
        fed = max(current - diode.photocurrent, 0.0)
        allowed = _CHORD_ERROR * (scale + 2.0 * fed)
        spread = 1.0 + diode.series_resistance * current / ideality
        root += 0.5 * math.sqrt(8.0 * allowed * spread)
        found.append(2.0 * ideality * (math.log(root) - halved_log))
    return found
