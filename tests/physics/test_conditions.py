"""A module at other temperatures and irradiances keeps what its datasheet declares."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from physics.strategies import datasheets
from wattproof.physics.conditions import (
    LARGEST_IDEALITY_DRIFT,
    at_conditions,
    declared_open_circuit_voltage,
    declared_short_circuit_current,
    module,
)
from wattproof.physics.extraction import CannotFit, Datasheet, Fit, fallback, fit
from wattproof.physics.single_diode import (
    maximum_power,
    open_circuit_voltage,
    short_circuit_current,
)

SHEET = Datasheet(22.5, 5.9, 18.9, 5.3, 36, -0.065, 0.003, -0.0039)


def fitted(sheet: Datasheet) -> Fit:
    try:
        return fit(sheet)
    except CannotFit:
        return fallback(sheet)


@given(datasheets(), st.floats(-40.0, 90.0))
def test_declared_coefficients_hold(sheet: Datasheet, celsius: float) -> None:
    diode = at_conditions(module(fitted(sheet), sheet), celsius, 1000.0)
    rise = celsius - 25.0
    voc = sheet.voc + sheet.voc_coefficient * rise
    isc = sheet.isc + sheet.isc_coefficient * rise
    assert open_circuit_voltage(diode) == pytest.approx(voc, rel=1e-9)
    assert short_circuit_current(diode) == pytest.approx(isc, rel=1e-9)
    assert declared_open_circuit_voltage(sheet, celsius) == pytest.approx(voc)
    assert declared_short_circuit_current(sheet, celsius, 500.0) == pytest.approx(isc / 2.0)


@given(datasheets())
def test_standard_conditions_change_nothing(sheet: Datasheet) -> None:
    found = fitted(sheet)
    diode = at_conditions(module(found, sheet), 25.0, 1000.0)
    for name in ("photocurrent", "saturation_current", "series_resistance", "modified_ideality"):
        assert getattr(diode, name) == pytest.approx(getattr(found.diode, name), rel=1e-6)


@given(datasheets())
def test_power_coefficient(sheet: Datasheet) -> None:
    model = module(fitted(sheet), sheet)
    hot = maximum_power(at_conditions(model, 60.0, 1000.0))[2]
    standard = maximum_power(model.diode)[2]
    assert (hot / standard - 1.0) / 35.0 == pytest.approx(model.pmax_coefficient, abs=1e-12)
    if sheet.pmax_coefficient is None:
        assert model.ideality_drift == 0.0
    elif abs(model.ideality_drift) < 0.005:
        assert model.pmax_coefficient == pytest.approx(sheet.pmax_coefficient, abs=1e-7)


@given(datasheets(), st.floats(-30.0, 80.0), st.floats(1.0, 1200.0), st.floats(1.05, 3.0))
def test_less_light_gives_less(sheet: Datasheet, celsius: float, sun: float, less: float) -> None:
    model = module(fitted(sheet), sheet)
    bright = at_conditions(model, celsius, sun)
    dim = at_conditions(model, celsius, sun / less)
    assert open_circuit_voltage(dim) < open_circuit_voltage(bright)
    assert short_circuit_current(dim) == pytest.approx(
        short_circuit_current(bright) / less, rel=0.05
    )
    assert maximum_power(dim)[2] < maximum_power(bright)[2]


@given(st.floats(-40.0, 80.0), st.floats(1.0, 10.0))
def test_colder_gives_more_voltage_and_power(celsius: float, colder: float) -> None:
    model = module(fit(SHEET), SHEET)
    warm = at_conditions(model, celsius, 1000.0)
    cold = at_conditions(model, celsius - colder, 1000.0)
    assert open_circuit_voltage(cold) > open_circuit_voltage(warm)
    assert maximum_power(cold)[0] > maximum_power(warm)[0]
    assert maximum_power(cold)[2] > maximum_power(warm)[2]


def test_darkness() -> None:
    diode = at_conditions(module(fit(SHEET), SHEET), 10.0, 0.0)
    assert diode.photocurrent == 0.0
    assert maximum_power(diode) == (0.0, 0.0, 0.0)


def test_a_coefficient_out_of_reach_is_told_apart() -> None:
    steep = SHEET._replace(pmax_coefficient=-0.0080)
    model = module(fit(steep), steep)
    assert model.ideality_drift == 0.015
    assert model.pmax_coefficient > -0.0080
    assert not model.coefficients_agree


def test_a_coefficient_that_asks_for_much_is_met_and_told_apart() -> None:
    """Labels whose power falls faster than voltage and shape of cells do are still obeyed."""
    steep = SHEET._replace(pmax_coefficient=-0.0047)
    model = module(fit(steep), steep)
    assert model.pmax_coefficient == pytest.approx(-0.0047, abs=1e-7)
    assert not model.coefficients_agree
    assert module(fit(SHEET), SHEET).coefficients_agree


@pytest.mark.parametrize(("celsius", "sun"), [(25.0, -1.0), (500.0, 1000.0), (-280.0, 1000.0)])
def test_conditions_out_of_this_world(celsius: float, sun: float) -> None:
    with pytest.raises(ValueError, match=r"irradiance|coefficients"):
        at_conditions(module(fit(SHEET), SHEET), celsius, sun)


def test_a_cell_below_a_volt_and_an_ampere_is_a_module_too() -> None:
    """Of 0.6 V and 0.5 A: its ideality is some hundredths of a volt."""
    sheet = Datasheet(0.6, 0.5, 0.5, 0.46, 1, -0.0018, 0.0003, -0.0042)
    found = fitted(sheet)
    model = module(found, sheet)
    assert model.pmax_coefficient == pytest.approx(-0.0042, abs=1e-6)
    for celsius in (0.0, 25.0, 60.0):
        diode = at_conditions(model, celsius, 1000.0)
        assert open_circuit_voltage(diode) == pytest.approx(0.6 - 0.0018 * (celsius - 25.0))
    point = maximum_power(at_conditions(model, 25.0, 1000.0))
    assert point[0] == pytest.approx(0.5, rel=1e-3)
    dim = at_conditions(model, 25.0, 0.5)
    assert dim.photocurrent == pytest.approx(0.5 * 0.0005, rel=1e-2)
    assert dim.shunt_resistance >= 1000.0 * found.diode.shunt_resistance


@pytest.mark.parametrize(("wanted", "drift"), [(-1e-6, -1.0), (-0.0199, 1.0)])
def test_a_coefficient_that_no_drift_meets_takes_the_largest(wanted: float, drift: float) -> None:
    sheet = SHEET._replace(pmax_coefficient=wanted)
    found = module(fit(SHEET), sheet)
    assert found.ideality_drift == drift * LARGEST_IDEALITY_DRIFT
