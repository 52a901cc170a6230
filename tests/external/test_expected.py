"""The sheet to measure by, against single-diode curves of a reference library at 24 conditions.

pvlib (PyPI): its own five-parameter model of real modules of the CEC list, solved at each sun and
temperature of the cells. What it gives must lie in the band that a meter may show, and near what is
called likely, for all but a few of a sample of modules.
"""

from __future__ import annotations

from functools import cache

import pytest

from external.real_modules import datasheets, reference, sample
from external.test_readings import PLAN
from wattproof.physics.extraction import Datasheet
from wattproof.quantities import Quantity, read_quantity
from wattproof.source import Place, Text
from wattproof.study import Study
from wattproof.study.readings.should_show import Sky
from wattproof.testing import study_of

SUNS = (1000.0, 850.0, 700.0, 500.0)
CELLS = (5.0, 15.0, 25.0, 40.0, 55.0, 70.0)
MODULES = 12
SEED = 62447


def told(number: float, unit: str, dimension: str) -> Quantity:
    return read_quantity(Text.at(f"{number:g} {unit}", Place("", 1, 1, 1, 1)), dimension)


def study_for(sheet: Datasheet) -> Study:
    """The plan of one real module, without a reading."""
    text = PLAN.partition("readings:")[0]
    return study_of(
        text.format(
            voc=sheet.voc,
            isc=sheet.isc,
            vmp=sheet.vmp,
            imp=sheet.imp,
            beta=sheet.voc_coefficient,
            alpha=sheet.isc_coefficient,
            gamma=(sheet.pmax_coefficient or 0.0) * 100.0,
            cells=sheet.cells_in_series,
        )
    )


@cache
def studies() -> tuple[Study, ...]:
    return tuple(study_for(sheet) for sheet in datasheets(sample(MODULES, SEED)))


@pytest.mark.parametrize("sun", SUNS)
@pytest.mark.parametrize("cells", CELLS)
def test_the_reference_lies_in_the_band(sun: float, cells: float) -> None:
    """Inside the band; current within 1.5 % of the likely one, voltage within 2 to 4 %.

    Ours follows the declared coefficient, theirs the band gap, so they part with the temperature.
    """
    theirs = reference(sample(MODULES, SEED), cells, sun)
    sky = Sky(told(sun, "W/m²", "irradiance"), None, told(cells, "°C", "temperature"))
    voltage, current, outside = [], [], 0
    for number, study in enumerate(studies()):
        [found] = [f for f in study.readings.expected(sky) if f.kind == "string"]
        voc, isc = float(theirs["v_oc"][number]), float(theirs["i_sc"][number])
        assert found.voc is not None
        assert found.isc is not None
        outside += not found.voc.least.number <= voc <= found.voc.most.number
        outside += not found.isc.least.number <= isc <= found.isc.most.number
        voltage.append(abs(found.voc.likely.number / voc - 1.0))
        current.append(abs(found.isc.likely.number / isc - 1.0))
    assert outside <= 1
    assert sorted(voltage)[-2] < 0.02 + 0.02 * abs(cells - 25.0) / 45.0
    assert sorted(current)[-2] < 0.015
