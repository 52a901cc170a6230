"""A module at another cell temperature and irradiance than the standard ones.

The datasheet's own coefficients rule. At 1000 W/m2 the translated model has, at every cell
temperature, exactly the declared short-circuit current and open-circuit voltage: saturation
current and photocurrent are solved from those two conditions, as Villalva does. Where the
coefficient of maximum power is declared, the ideality drifts linearly with temperature so that
this coefficient is met too, as Mermoud and Lejeune do. Resistances and irradiance follow De Soto.

De Soto's own saturation current, from the band gap, was not chosen: its open-circuit voltage
departs from the declared coefficient. For ratings use `declared_open_circuit_voltage`, the plain
linear rule of the datasheet; this model has the same value at 1000 W/m2.

Sources: M. G. Villalva, J. R. Gazoli, E. R. Filho, "Comprehensive approach to modeling and
simulation of photovoltaic arrays", IEEE Transactions on Power Electronics 24 (2009) 1198-1208,
doi 10.1109/TPEL.2009.2013862; A. Mermoud, T. Lejeune, "Performance assessment of a simulation
model for PV modules of any available technology", 25th European Photovoltaic Solar Energy
Conference (2010), doi 10.4229/25thEUPVSEC2010-4BV.1.114; W. De Soto, S. A. Klein,
W. A. Beckman, "Improvement and validation of a model for photovoltaic array performance", Solar
Energy 80 (2006) 78-88, doi 10.1016/j.solener.2005.06.010.
"""

import math
from functools import lru_cache
from typing import NamedTuple

from wattproof.physics.extraction import (
    STANDARD_CELL_TEMPERATURE,
    STANDARD_IRRADIANCE,
    Datasheet,
    Fit,
)
from wattproof.physics.roots import bracketed_root
from wattproof.physics.single_diode import ZERO_CELSIUS, Diode, maximum_power

HOT_CELL_TEMPERATURE = 60.0  # °C, where the declared coefficient of maximum power is met
LARGEST_IDEALITY_DRIFT = 0.015  # 1/K; beyond it cold cells would have no ideality left
PLAUSIBLE_IDEALITY_DRIFT = 0.008  # 1/K; a label that needs more contradicts itself
_MOST_IDEALITIES = 600.0  # Voc over a; beyond, a float cannot hold the saturation current


class Module(NamedTuple):
    """A fitted model with all that is needed to translate it.

    diode holds at standard test conditions; ideality_drift (1/K) is the part of the ideality's
    change with temperature that is not the thermal voltage; pmax_coefficient (1/K) is the one that
    the model has between 25 and 60 °C: the declared one, but where the drift that would be needed
    is beyond its limit.
    """

    diode: Diode
    datasheet: Datasheet
    ideality_drift: float
    pmax_coefficient: float

    @property
    def coefficients_agree(self) -> bool:
        """False where the declared coefficients of power and of voltage fit no one module.

        Power falls with the voltage and with the shape of the curve; a shape that would have to
        change several times as fast as cells do is a slip on the label.
        """
        wanted = self.datasheet.pmax_coefficient
        met = wanted is None or abs(self.pmax_coefficient - wanted) < 1e-6
        return met and abs(self.ideality_drift) <= PLAUSIBLE_IDEALITY_DRIFT


@lru_cache(maxsize=256)
def module(fitted: Fit, datasheet: Datasheet) -> Module:
    """Return the model `fitted` to `datasheet`, ready for `at_conditions`.

    ValueError where the declared coefficients leave no curve at 60 °C. Remembered by value.
    """
    wanted = datasheet.pmax_coefficient

    def excess(drift: float) -> float:
        return _pmax_coefficient(fitted.diode, datasheet, drift) - (wanted or 0.0)

    limit = LARGEST_IDEALITY_DRIFT
    if wanted is None:
        drift = 0.0
    elif excess(limit) >= 0.0:
        drift = limit
    elif excess(-limit) <= 0.0:
        drift = -limit
    else:
        drift = bracketed_root(excess, -limit, limit, absolute=1e-9)
    return Module(
        diode=fitted.diode,
        datasheet=datasheet,
        ideality_drift=drift,
        pmax_coefficient=_pmax_coefficient(fitted.diode, datasheet, drift),
    )


def _pmax_coefficient(diode: Diode, datasheet: Datasheet, drift: float) -> float:
    """Return the coefficient (1/K) of maximum power between 25 and 60 °C with this drift (1/K)."""
    hot = _translated(diode, datasheet, drift, HOT_CELL_TEMPERATURE, STANDARD_IRRADIANCE)
    rise = HOT_CELL_TEMPERATURE - STANDARD_CELL_TEMPERATURE
    return (maximum_power(hot)[2] / maximum_power(diode)[2] - 1.0) / rise


def declared_open_circuit_voltage(datasheet: Datasheet, cell_temperature: float) -> float:
    """Return Voc (V) at 1000 W/m2 and `cell_temperature` (°C) by the declared coefficient."""
    rise = cell_temperature - STANDARD_CELL_TEMPERATURE
    return datasheet.voc + datasheet.voc_coefficient * rise


def declared_short_circuit_current(
    datasheet: Datasheet, cell_temperature: float, irradiance: float = STANDARD_IRRADIANCE
) -> float:
    """Return Isc (A), by the declared coefficient and in proportion to the irradiance (W/m2)."""
    rise = cell_temperature - STANDARD_CELL_TEMPERATURE
    return (datasheet.isc + datasheet.isc_coefficient * rise) * irradiance / STANDARD_IRRADIANCE


def at_conditions(model: Module, cell_temperature: float, irradiance: float) -> Diode:
    """Return the single-diode model at `cell_temperature` (°C) and `irradiance` (W/m2).

    Zero irradiance is darkness. With T in kelvin and S = G / 1000 W/m2: a grows with T (and the
    drift), Rs stays, Rsh divides by S, IL multiplies by S, I0 depends on T alone. ValueError for
    negative irradiance, and for a temperature at which the declared coefficients leave no curve.
    """
    return _translated(
        model.diode, model.datasheet, model.ideality_drift, cell_temperature, irradiance
    )


def _translated(
    fitted: Diode,
    datasheet: Datasheet,
    drift: float,
    cell_temperature: float,
    irradiance: float,
) -> Diode:
    """Return `fitted` at other conditions, its ideality drifting by `drift` (1/K)."""
    if not 0.0 <= irradiance < math.inf:
        raise ValueError("irradiance must be finite and not negative")
    rise = cell_temperature - STANDARD_CELL_TEMPERATURE
    kelvin = cell_temperature + ZERO_CELSIUS
    voltage = declared_open_circuit_voltage(datasheet, cell_temperature)
    current = declared_short_circuit_current(datasheet, cell_temperature)
    growth = kelvin / (STANDARD_CELL_TEMPERATURE + ZERO_CELSIUS)
    ideality = fitted.modified_ideality * growth * (1.0 + drift * rise)
    drop = current * fitted.series_resistance
    # The diode's current at open circuit is what does not flow through the shunt there.
    beyond = current - (voltage - drop) / fitted.shunt_resistance
    possible = kelvin > 0.0 and ideality > 0.0 and current > 0.0 and drop < voltage
    if not (possible and beyond > 0.0 and voltage < _MOST_IDEALITIES * ideality):
        raise ValueError("the declared coefficients leave no curve at this cell temperature")
    scaled = beyond / -math.expm1((drop - voltage) / ideality)
    saturation = scaled * math.exp(-voltage / ideality)
    photocurrent = scaled * -math.expm1(-voltage / ideality) + voltage / fitted.shunt_resistance
    sun = irradiance / STANDARD_IRRADIANCE
    return Diode(
        photocurrent=photocurrent * sun,
        saturation_current=saturation,
        series_resistance=fitted.series_resistance,
        shunt_resistance=fitted.shunt_resistance / sun if sun > 0.0 else math.inf,
        modified_ideality=ideality,
    )
