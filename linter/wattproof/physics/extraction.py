"""From the values printed on a datasheet to the parameters of the single-diode model.

The ideality comes from an explicit published formula; series resistance, shunt resistance,
saturation current and photocurrent then follow from the model's own equations at short circuit,
open circuit and maximum power, solved exactly.

Sources: E. I. Batzelis, S. A. Papathanassiou, "A method for the analytical extraction of the
single-diode PV model parameters", IEEE Transactions on Sustainable Energy 7 (2016) 504-512,
doi 10.1109/TSTE.2015.2503435; E. I. Batzelis, "Simple PV performance equations theoretically
well founded on the single-diode model", IEEE Journal of Photovoltaics 7 (2017) 1400-1409,
doi 10.1109/JPHOTOV.2017.2711431 (the ideality); the equations at the three points are those of
De Soto, Klein and Beckman, doi 10.1016/j.solener.2005.06.010.
"""

import math
from functools import lru_cache
from typing import Literal, NamedTuple

from wattproof.physics.roots import bracketed_root
from wattproof.physics.single_diode import Diode, maximum_power

STANDARD_CELL_TEMPERATURE = 25.0  # °C
STANDARD_IRRADIANCE = 1000.0  # W/m2

_STANDARD_KELVIN = 298.15
_IDEALITY_STEP = 1.01
_LARGEST_WALK = 140  # steps of one per cent each way: from a quarter to four times
_TRUSTED_MOVE = 0.20


class CannotFit(ValueError):
    """The values of a datasheet belong to no curve of this kind; the message says why."""


class Datasheet(NamedTuple):
    """What a maker declares at standard test conditions (1000 W/m2, cells at 25 °C, AM 1.5).

    voc, vmp (V), isc, imp (A), cells_in_series (count), voc_coefficient (V/K, negative),
    isc_coefficient (A/K, of either sign), pmax_coefficient (1/K, negative) where it is declared.
    """

    voc: float
    isc: float
    vmp: float
    imp: float
    cells_in_series: int
    voc_coefficient: float
    isc_coefficient: float
    pmax_coefficient: float | None = None


class Fit(NamedTuple):
    """A model of a module and how far it is to be trusted.

    diode holds at standard test conditions. ideality_moved is the share by which the published
    ideality had to be moved until the three equations could be met (-0.05: five per cent less).
    confidence is low where it moved by more than 20 % or where the simpler model stands in.
    """

    diode: Diode
    ideality_moved: float
    confidence: Literal["high", "low"]
    method: str


@lru_cache(maxsize=256)
def fit(datasheet: Datasheet) -> Fit:
    """Return the single-diode model that meets short circuit, open circuit and maximum power.

    Takes the published ideality, else the nearest one in steps of one per cent for which series
    resistance and shunt conductance are not negative. Raises CannotFit where the five values
    contradict each other or no ideality between a quarter and four times the published one does.
    """
    _refuse_impossible(datasheet)
    published = published_ideality(datasheet)
    for steps in range(_LARGEST_WALK + 1):
        for factor in (_IDEALITY_STEP**-steps, _IDEALITY_STEP**steps):
            diode = _solve_three_points(datasheet, published * factor)
            if diode is not None:
                moved = factor - 1.0
                return Fit(
                    diode=diode,
                    ideality_moved=moved,
                    confidence="low" if abs(moved) > _TRUSTED_MOVE else "high",
                    method="single diode through the three points, published ideality",
                )
    raise CannotFit(
        "no single-diode curve passes through these open-circuit, short-circuit and "
        "maximum-power values with resistances that are not negative"
    )


def fallback(datasheet: Datasheet) -> Fit:
    """Return a simpler curve through the three points, for a datasheet that `fit` refuses.

    I = Isc - I0 (exp(V / a) - 1): an exponential without resistances, whose two constants put
    the curve through open circuit and (Vmp, Imp). Its maximum power is that of the datasheet or
    above, its maximum-power voltage may differ: state it as an assumption. Raises CannotFit for
    impossible values, and where the three points are not on a bulging curve at all.

    Source: S. Singer, B. Rozenshtein, S. Surazi, "Characterization of PV array output using a
    small number of measured parameters", Solar Energy 32 (1984) 603-607; its two constants are
    solved here exactly.
    """
    _refuse_impossible(datasheet)
    voc, isc, vmp = datasheet.voc, datasheet.isc, datasheet.vmp
    missing = 1.0 - datasheet.imp / isc
    if missing >= vmp / voc:
        raise CannotFit(
            "the maximum-power point lies on or below the straight line from short circuit to "
            "open circuit, so no solar cell has this curve"
        )

    def excess(ideality: float) -> float:
        falling = math.exp((vmp - voc) / ideality)
        return falling * -math.expm1(-vmp / ideality) / -math.expm1(-voc / ideality) - missing

    ideality = bracketed_root(excess, voc / 600.0, voc * 1e6)
    return Fit(
        diode=Diode(
            photocurrent=isc,
            saturation_current=isc / math.expm1(voc / ideality),
            series_resistance=0.0,
            shunt_resistance=math.inf,
            modified_ideality=ideality,
        ),
        ideality_moved=0.0,
        confidence="low",
        method="simple exponential through the three points",
    )


def published_ideality(datasheet: Datasheet) -> float:
    """Return the modified ideality a (V) at 25 °C by the explicit formula of Batzelis.

    a = Voc (1 - beta T) / (50.1 - alpha T), with the coefficients beta of Voc and alpha of Isc
    relative (1/K) and T = 298.15 K. Crystalline silicon is presumed in the constant 50.1.
    """
    beta = datasheet.voc_coefficient / datasheet.voc
    alpha = datasheet.isc_coefficient / datasheet.isc
    return datasheet.voc * (1.0 - beta * _STANDARD_KELVIN) / (50.1 - alpha * _STANDARD_KELVIN)


def _refuse_impossible(datasheet: Datasheet) -> None:
    """Raise CannotFit, with the reason, where the values contradict each other."""
    values = (datasheet.voc, datasheet.isc, datasheet.vmp, datasheet.imp)
    if not all(0.0 < value < math.inf for value in values):
        raise CannotFit("voltages and currents must be above zero")
    if datasheet.imp >= datasheet.isc:
        raise CannotFit("the current at maximum power is not below the short-circuit current")
    if datasheet.vmp >= datasheet.voc:
        raise CannotFit("the voltage at maximum power is not below the open-circuit voltage")
    if datasheet.cells_in_series < 1:
        raise CannotFit("there must be at least one cell in series")
    if not -0.02 < datasheet.voc_coefficient / datasheet.voc < 0.0:
        raise CannotFit("the coefficient of the open-circuit voltage must lie between -2 and 0 %/K")
    if not abs(datasheet.isc_coefficient / datasheet.isc) < 0.02:
        raise CannotFit("the coefficient of the short-circuit current must be within 2 %/K")
    coefficient = datasheet.pmax_coefficient
    if coefficient is not None and not -0.02 < coefficient < 0.0:
        raise CannotFit("the coefficient of maximum power must lie between -2 and 0 %/K")


def _solve_three_points(datasheet: Datasheet, ideality: float) -> Diode | None:
    """Return the model with this modified ideality (V) that meets the three points, or None.

    For a given series resistance the three equations are linear in photocurrent, saturation
    current and shunt conductance. That the power is greatest at (Vmp, Imp) then fixes the series
    resistance: -dI/dV = Imp / Vmp there, a function with one change of sign.
    """
    highest = 0.999999 * ((datasheet.voc - datasheet.vmp) / datasheet.imp)

    def excess(resistance: float) -> float:
        scaled, conductance, at_maximum = _linear_solution(datasheet, ideality, resistance)
        slope = scaled / ideality * at_maximum + conductance
        return slope * (datasheet.vmp - datasheet.imp * resistance) - datasheet.imp

    if not excess(0.0) <= 0.0 < excess(highest):
        return None
    resistance = bracketed_root(excess, 0.0, highest, relative=1e-13, absolute=1e-15)
    scaled, conductance, _ = _linear_solution(datasheet, ideality, resistance)
    saturation = scaled * math.exp(-datasheet.voc / ideality)
    if conductance < 0.0 or not saturation > 0.0:
        return None
    diode = Diode(
        photocurrent=saturation * math.expm1(datasheet.voc / ideality)
        + conductance * datasheet.voc,
        saturation_current=saturation,
        series_resistance=resistance,
        shunt_resistance=1.0 / conductance if conductance else math.inf,
        modified_ideality=ideality,
    )
    return diode if _meets_maximum(diode, datasheet) else None


def _linear_solution(
    datasheet: Datasheet, ideality: float, resistance: float
) -> tuple[float, float, float]:
    """Return I0 exp(Voc/a) (A), shunt conductance (S) and exp((Vmp + Imp Rs - Voc)/a).

    Open circuit less short circuit, and open circuit less maximum power, are two equations
    linear in the first two; exponentials are taken relative to open circuit so that none is large.
    """
    drop = datasheet.isc * resistance
    diode_voltage = datasheet.vmp + datasheet.imp * resistance
    at_short = math.exp((drop - datasheet.voc) / ideality)
    at_maximum = math.exp((diode_voltage - datasheet.voc) / ideality)
    short_exponential, short_shunt = 1.0 - at_short, datasheet.voc - drop
    maximum_exponential, maximum_shunt = 1.0 - at_maximum, datasheet.voc - diode_voltage
    determinant = short_exponential * maximum_shunt - maximum_exponential * short_shunt
    if determinant == 0.0:
        return math.nan, math.nan, at_maximum
    scaled = (datasheet.isc * maximum_shunt - datasheet.imp * short_shunt) / determinant
    conductance = (
        datasheet.imp * short_exponential - datasheet.isc * maximum_exponential
    ) / determinant
    return scaled, conductance, at_maximum


def _meets_maximum(diode: Diode, datasheet: Datasheet) -> bool:
    """Say whether the model's maximum power is the declared one, within a millionth."""
    declared = datasheet.vmp * datasheet.imp
    return abs(maximum_power(diode)[2] - declared) <= 1e-6 * declared
