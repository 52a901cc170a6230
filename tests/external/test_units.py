"""Every unit of the plan language against a general-purpose units library.

Source: Pint (PyPI), whose registry follows the BIPM SI Brochure and NIST SP 811; the American wire
gauge is not in it and is checked against ASTM B258 as NEC Chapter 9 Table 8 prints it, in
test_conductor_tables.py.
"""

from __future__ import annotations

import pint
import pytest

from wattproof.quantities import DIMENSIONS, Mistake, read_quantity, si_unit
from wattproof.source import Place, Text

REGISTRY = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
HERE = Place("plan.yaml", 1, 1, 1, 2)

SPELLED = {
    "Ω": "ohm",
    "mΩ": "milliohm",
    "mohm": "milliohm",
    "mm²": "mm**2",
    "mm2": "mm**2",
    "m²": "m**2",
    "m2": "m**2",
    "cm²": "cm**2",
    "cm2": "cm**2",
    "ft²": "foot**2",
    "ft2": "foot**2",
    "in": "inch",
    "%": "percent",
    "W/m²": "watt / m**2",
    "W/m2": "watt / m**2",
    "kW/m²": "kilowatt / m**2",
    "kW/m2": "kilowatt / m**2",
    "mW/cm²": "milliwatt / cm**2",
    "mW/cm2": "milliwatt / cm**2",
    "Ah": "ampere * hour",
    "Wh": "watt * hour",
    "kWh": "kilowatt * hour",
    "h": "hour",
    "min": "minute",
    "°C": "degC",
    "C": "degC",
    "°F": "degF",
    "F": "degF",
    "K": "kelvin",
}
SI = {
    "Ω": "ohm",
    "°C": "degC",
    "1": "",
    "1/K": "1/kelvin",
    "m²": "m**2",
    "C": "coulomb",
    "W/m²": "watt / m**2",
}

CASES = [(d.name, unit) for d in DIMENSIONS.values() for unit in d.units]


def spelled(unit: str) -> str:
    if unit in SPELLED:
        return SPELLED[unit]
    above, _, below = unit.partition("/")
    if below:  # a coefficient: per degree of difference
        degree = "delta_degF" if below.endswith("F") else "delta_degC"
        return f"{SPELLED.get(above, above)} / {degree}"
    return unit


@pytest.mark.parametrize(("dimension", "unit"), CASES)
@pytest.mark.parametrize("number", ["1", "12.8", "0.05", "290", "0.003"])
def test_unit(dimension: str, unit: str, number: str) -> None:
    expected = by_pint(number, unit, dimension)
    if not plausible(expected, dimension):
        with pytest.raises(Mistake, match=r"lies between|less than|more than|larger than"):
            read_quantity(Text.at(f"{number} {unit}", HERE), dimension)
        return
    ours = read_quantity(Text.at(f"{number} {unit}", HERE), dimension)
    assert ours.value == pytest.approx(expected, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(("dimension", "unit"), CASES)
def test_some_number_of_each_unit_is_plausible(dimension: str, unit: str) -> None:
    numbers = ("1", "12.8", "0.05", "290", "0.003")
    assert any(plausible(by_pint(number, unit, dimension), dimension) for number in numbers)


def by_pint(number: str, unit: str, dimension: str) -> float:
    """The value in our unit of the dimension, by the units library."""
    target = si_unit(dimension)
    theirs = REGISTRY.Quantity(float(number), spelled(unit))
    if dimension.endswith("coefficient"):
        target = target.replace("1/K", "1/delta_degC").replace("/K", "/delta_degC")
        return float(theirs.to(target).magnitude)
    return float(theirs.to(SI.get(target, target)).magnitude)


def plausible(value: float, dimension: str) -> bool:
    """Whether a value lies between the bounds of its dimension, read by the units library too."""
    bounds = DIMENSIONS[dimension]
    least = _bound(bounds.least, dimension)
    most = _bound(bounds.most, dimension)
    if bounds.signed and not bounds.least and most is not None:
        least = -most
    slack, most = 1e-12, 1e9 if most is None else most  # nothing larger is in such a plan
    return (least is None or value >= least - slack) and (most is None or value <= most + slack)


def _bound(written: str, dimension: str) -> float | None:
    if not written:
        return None
    number, _, unit = written.replace("−", "-").partition(" ")
    return by_pint(number, unit, dimension)
