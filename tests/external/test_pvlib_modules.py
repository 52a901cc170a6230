"""Fits and curves against pvlib and the modules of its CEC list.

The ordinary run takes 2,000 modules; `tests/benchmarks/module_set.py` takes all of them.
"""

import numpy as np
import pvlib
import pytest

from amounts import amount
from external.comparison import Comparison, compare, percentile, summary
from external.real_modules import crystalline_modules, datasheets, sample
from wattproof.physics.conditions import at_conditions, declared_open_circuit_voltage, module
from wattproof.physics.extraction import fallback, fit
from wattproof.physics.single_diode import (
    Diode,
    current_at,
    curve,
    maximum_power,
    open_circuit_voltage,
    short_circuit_current,
    voltage_at,
)
from wattproof.study.assumptions import labels
from wattproof.study.assumptions.rows import Times

SEED = 20160503


@pytest.fixture(scope="module")
def compared() -> Comparison:
    found = compare(sample(2000, SEED))
    print("\n" + summary(found))
    return found


def test_four_points_of_real_modules(compared: Comparison) -> None:
    total = sum(compared.counts.values())
    assert sum(error <= 0.01 for error in compared.point_errors) >= 0.99 * total
    assert max(compared.point_errors) < 1e-6


def test_low_confidence_is_rare(compared: Comparison) -> None:
    assert compared.counts["confidence low"] < 0.1 * sum(compared.counts.values())


def test_declared_power_coefficient_is_nearly_met(compared: Comparison) -> None:
    """Within 0.03 %/K for 95 %, 0.1 %/K for 99 %; the rest contradict their own Voc coefficient."""
    errors = [abs(error) for error in compared.coefficient_errors]
    assert percentile(errors, 0.95) < 3e-4
    assert percentile(errors, 0.99) < 1e-3


@pytest.mark.parametrize(
    ("name", "celsius", "middle", "most"),
    [
        # Voc follows the declared coefficient here, the fitted band gap and ideality there.
        ("v_oc", -20.0, 0.015, 0.04),
        ("v_oc", 70.0, 0.025, 0.06),
        ("v_mp", -20.0, 0.01, 0.025),
        ("v_mp", 70.0, 0.015, 0.05),
        ("p_mp", -20.0, 0.01, 0.04),
        ("p_mp", 70.0, 0.01, 0.05),
    ],
)
def test_cold_and_hot_against_the_reference(
    compared: Comparison, name: str, celsius: float, middle: float, most: float
) -> None:
    """The median difference, and what 98 % of the modules stay within."""
    differences = compared.differences[name, celsius]
    assert abs(percentile(differences, 0.5)) < middle
    assert -most < percentile(differences, 0.01)
    assert percentile(differences, 0.99) < most


def test_open_circuit_voltage_follows_the_declared_coefficient() -> None:
    for sheet in datasheets(sample(200, SEED)):
        model = module(fit(sheet), sheet)
        for celsius in (-40.0, -20.0, 0.0, 45.0, 70.0):
            diode = at_conditions(model, celsius, 1000.0)
            declared = declared_open_circuit_voltage(sheet, celsius)
            assert open_circuit_voltage(diode) == pytest.approx(declared, rel=1e-9)
            isc = sheet.isc + sheet.isc_coefficient * (celsius - 25.0)
            assert short_circuit_current(diode) == pytest.approx(isc, rel=1e-9)


def test_fallback_passes_through_the_three_points() -> None:
    for sheet in datasheets(sample(500, SEED)):
        diode = fallback(sheet).diode
        assert open_circuit_voltage(diode) == pytest.approx(sheet.voc, rel=1e-9)
        assert short_circuit_current(diode) == pytest.approx(sheet.isc, rel=1e-9)
        assert current_at(diode, sheet.vmp) == pytest.approx(sheet.imp, rel=1e-9)
        assert maximum_power(diode)[2] >= sheet.vmp * sheet.imp * (1.0 - 1e-12)
        assert maximum_power(diode)[2] <= 1.05 * sheet.vmp * sheet.imp


def _arguments(diode: Diode) -> tuple[float, float, float, float, float]:
    """Return the parameters in the order in which the reference takes them."""
    return (
        diode.photocurrent,
        diode.saturation_current,
        diode.series_resistance,
        diode.shunt_resistance,
        diode.modified_ideality,
    )


def test_curves_against_the_reference_solver() -> None:
    """Equal parameters: current along the whole curve, and the characteristic points."""
    worst = {"current": 0.0, "voltage": 0.0, "point": 0.0}
    for sheet in datasheets(sample(300, SEED + 1).iloc[:: amount(3, 1)]):
        model = module(fit(sheet), sheet)
        for celsius, sun in ((-20.0, 1000.0), (25.0, 1000.0), (70.0, 200.0)):
            diode = at_conditions(model, celsius, sun)
            voltages, currents = curve(diode, 60)
            theirs = pvlib.pvsystem.i_from_v(np.array(voltages), *_arguments(diode))
            scale = currents[0]
            worst["current"] = max(worst["current"], np.max(np.abs(theirs - currents)) / scale)
            wide = np.array([-0.3 * scale, 0.0, 0.5 * scale, 0.9 * scale])
            back = pvlib.pvsystem.v_from_i(wide, *_arguments(diode))
            ours = [voltage_at(diode, current) for current in wide]
            error = np.max(np.abs(back - ours)) / sheet.voc
            worst["voltage"] = max(worst["voltage"], error)
            points = pvlib.pvsystem.singlediode(*_arguments(diode))
            voltage, current, power = maximum_power(diode)
            for found, name in (
                (open_circuit_voltage(diode), "v_oc"),
                (short_circuit_current(diode), "i_sc"),
                (power, "p_mp"),
            ):
                worst["point"] = max(worst["point"], abs(found / float(points[name]) - 1.0))
            # The power is flat about its maximum, so its place is known less well.
            assert voltage == pytest.approx(float(points["v_mp"]), rel=1e-4)
            assert current == pytest.approx(float(points["i_mp"]), rel=1e-4)
    print("\nagainst the reference's solver:", {k: f"{v:.1e}" for k, v in worst.items()})
    assert max(worst.values()) < 1e-6


def test_a_small_module_has_the_current_of_36_cells() -> None:
    """What is taken of a module up to 130 W by its power alone, by the labels of the CEC list.

    Up to twice that power two kinds are sold, of which one has half the current: a guess.
    """
    table = crystalline_modules()
    power = (table["V_mp_ref"] * table["I_mp_ref"]).astype(float)
    volts = labels.VMP_PER_CELL.value * labels.CELLS.value["up to 220 W"]
    taken = power / volts / labels.IMP_SHARE.value["crystalline"]
    share = table["I_sc_ref"].astype(float) / taken
    small = power <= labels.SMALL_MODULE.value
    middle = ~small & (power <= labels.LARGE_MODULE.value)
    kind, guessed = labels.NO_ISC_OF_SMALL.kind, labels.NO_ISC_BY_POWER.kind
    assert isinstance(kind, Times)
    assert isinstance(kind.factor, float)
    assert isinstance(guessed, Times)
    assert isinstance(guessed.factor, float)
    assert small.sum() == 197
    assert (share[small] < kind.factor).sum() == 2
    assert (share[middle] < kind.factor).mean() > 0.3
    assert (share[middle] < guessed.factor - 0.1).mean() < 0.02
