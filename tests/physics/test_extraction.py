"""From datasheet to diode: the declared points are met, impossible sheets refused."""

import math

import pytest
from hypothesis import given

from physics.strategies import datasheets
from wattproof.physics import extraction
from wattproof.physics.extraction import (
    CannotFit,
    Datasheet,
    fallback,
    fit,
    published_ideality,
)
from wattproof.physics.single_diode import (
    current_at,
    maximum_power,
    open_circuit_voltage,
    short_circuit_current,
)

SHEET = Datasheet(22.5, 5.9, 18.9, 5.3, 36, -0.065, 0.003, -0.0039)


@given(datasheets())
def test_a_fit_meets_the_datasheet(sheet: Datasheet) -> None:
    try:
        found = fit(sheet)
    except CannotFit:
        return
    voltage, current, _ = maximum_power(found.diode)
    assert open_circuit_voltage(found.diode) == pytest.approx(sheet.voc, rel=1e-6)
    assert short_circuit_current(found.diode) == pytest.approx(sheet.isc, rel=1e-6)
    assert voltage == pytest.approx(sheet.vmp, rel=1e-5)
    assert current == pytest.approx(sheet.imp, rel=1e-5)
    moved = found.diode.modified_ideality / published_ideality(sheet) - 1.0
    assert found.ideality_moved == pytest.approx(moved, abs=1e-12)
    assert found.confidence == ("low" if abs(moved) > 0.2 else "high")


@given(datasheets())
def test_units_do_not_matter(sheet: Datasheet) -> None:
    """Twice the cells in series, twice the cells in parallel: the same shape."""
    doubled = sheet._replace(
        voc=2.0 * sheet.voc,
        vmp=2.0 * sheet.vmp,
        voc_coefficient=2.0 * sheet.voc_coefficient,
        isc=2.0 * sheet.isc,
        imp=2.0 * sheet.imp,
        isc_coefficient=2.0 * sheet.isc_coefficient,
    )
    try:
        one, two = fit(sheet), fit(doubled)
    except CannotFit:
        return
    assert two.ideality_moved == pytest.approx(one.ideality_moved, abs=1e-9)
    assert two.diode.series_resistance == pytest.approx(one.diode.series_resistance, rel=1e-6)


@given(datasheets())
def test_fallback_is_safe(sheet: Datasheet) -> None:
    found = fallback(sheet)
    assert found.confidence == "low"
    assert open_circuit_voltage(found.diode) == pytest.approx(sheet.voc, rel=1e-9)
    assert short_circuit_current(found.diode) == pytest.approx(sheet.isc, rel=1e-9)
    assert current_at(found.diode, sheet.vmp) == pytest.approx(sheet.imp, rel=1e-9)
    assert maximum_power(found.diode)[2] >= sheet.vmp * sheet.imp * (1.0 - 1e-9)


def test_an_ordinary_module() -> None:
    found = fit(SHEET)
    assert found.confidence == "high"
    thermal = 1.380649e-23 * 298.15 / 1.602176634e-19
    ideality = found.diode.modified_ideality / (36 * thermal)
    assert 0.8 < ideality < 1.4
    assert 0.0 < found.diode.series_resistance < 0.5
    assert found.diode.shunt_resistance > 20.0


def test_a_curve_too_square_for_the_model_falls_back() -> None:
    """A real datasheet of the CEC list: current at maximum power 98.6 % of short circuit."""
    sheet = Datasheet(45.68, 9.06, 35.86, 8.93, 72, -0.146, 0.0045)
    with pytest.raises(CannotFit, match="no single-diode curve"):
        fit(sheet)
    assert maximum_power(fallback(sheet).diode)[2] == pytest.approx(320.2, rel=0.05)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"imp": 5.9}, "current at maximum power"),
        ({"imp": 6.5}, "current at maximum power"),
        ({"vmp": 22.5}, "voltage at maximum power"),
        ({"voc": 0.0}, "above zero"),
        ({"isc": math.nan}, "above zero"),
        ({"vmp": math.inf}, "above zero"),
        ({"cells_in_series": 0}, "cell in series"),
        ({"voc_coefficient": 0.065}, "open-circuit voltage"),
        ({"voc_coefficient": -2.9}, "open-circuit voltage"),
        ({"isc_coefficient": 0.5}, "short-circuit current"),
        ({"pmax_coefficient": -0.39}, "maximum power"),
        ({"pmax_coefficient": math.nan}, "maximum power"),
    ],
)
def test_impossible_datasheets(change: dict[str, float], reason: str) -> None:
    sheet = SHEET._replace(**change)  # type: ignore[arg-type]
    for method in (fit, fallback):
        with pytest.raises(CannotFit, match=reason):
            method(sheet)


def test_a_hollow_curve_is_refused_by_both() -> None:
    sheet = SHEET._replace(vmp=10.0, imp=3.0)
    with pytest.raises(CannotFit, match="no single-diode curve"):
        fit(sheet)
    with pytest.raises(CannotFit, match="straight line"):
        fallback(sheet)


def test_the_published_ideality_by_hand() -> None:
    """Voc (1 - βT) / (50.1 - αT): 100 V, -0.3 and 0.05 %/K, 298.15 K."""
    label = Datasheet(100.0, 5.0, 80.0, 4.6, 160, -0.3, 0.0025)
    by_hand = 100.0 * (1.0 + 0.003 * 298.15) / (50.1 - 0.0005 * 298.15)
    assert published_ideality(label) == pytest.approx(by_hand)


def test_an_ideality_that_moved_as_far_as_is_trusted_is_trusted(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    label = Datasheet(100.0, 5.0, 80.0, 4.6, 160, -0.3, 0.0025)
    moved = abs(fit(label).ideality_moved)
    for trusted, confidence in ((moved, "high"), (moved - 1e-9, "low")):
        monkeypatch.setattr(extraction, "_TRUSTED_MOVE", trusted)
        fit.cache_clear()
        assert fit(label).confidence == confidence
    fit.cache_clear()


def test_the_simpler_curve_moves_no_ideality() -> None:
    found = fallback(Datasheet(22.5, 5.9, 18.9, 5.3, 36, -0.065, 0.003, -0.0039))
    assert (found.ideality_moved, found.confidence) == (0.0, "low")


def test_the_ideality_is_moved_step_by_step_to_the_last_that_is_allowed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    label = Datasheet(100.0, 5.0, 84.5, 4.8, 160, -0.3, 0.0025)
    moved = fit(label).ideality_moved
    steps = round(abs(math.log1p(moved)) / math.log(1.01))
    assert steps > 1
    monkeypatch.setattr(extraction, "_LARGEST_WALK", steps)
    fit.cache_clear()
    assert fit(label).ideality_moved == moved
    monkeypatch.setattr(extraction, "_LARGEST_WALK", steps - 1)
    fit.cache_clear()
    with pytest.raises(CannotFit):
        fit(label)
    fit.cache_clear()


def test_an_ideality_that_moved_by_more_than_a_fifth_is_not_trusted() -> None:
    """21 steps of one per cent down are 18.9 %, and 23 are 20.5 %."""
    for vmp, steps, confidence in ((82.0, 21, "high"), (81.5, 23, "low")):
        found = fit(Datasheet(100.0, 5.0, vmp, 4.8, 160, -0.3, 0.0025))
        assert found.ideality_moved == pytest.approx(1.01**-steps - 1.0)
        assert found.confidence == confidence


def test_two_equations_that_are_one_have_no_solution() -> None:
    """With 1 Ω the point of maximum power is at open circuit inside the diode: 16 V + 4 A."""
    label = Datasheet(20.0, 5.0, 16.0, 4.0, 36, -0.065, 0.003)
    scaled, conductance, _ = extraction._linear_solution(label, 1.0, 1.0)
    assert math.isnan(scaled)
    assert math.isnan(conductance)
