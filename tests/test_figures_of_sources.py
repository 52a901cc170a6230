"""Figures of the code that are facts of a source, of the trade or chosen, written a second time.

Most are asked at their limits in other tests, which take them as they stand: none of those would
see one that is a little off.
"""

from __future__ import annotations

import importlib
import math

import pytest

FIGURES = {
    "physics.clear_sky": {  # Linke turbidity of clear air; albedo of grass
        "CLEAR_AIR": 3.0, "CLEAREST_AIR": 2.0, "GROUND_REFLECTS": 0.2,
    },
    "physics.sun_position": {"SOLAR_CONSTANT": 1361.0},  # W/m², Kopp and Lean 2011
    "physics.conductors": {  # IEC 60028 in Ω mm²/m and 1/K; IEC 60364-5-54 annex A
        "COPPER_RESISTIVITY": 1 / 58, "COPPER_COEFFICIENT": 0.00393,
        "ALUMINIUM_WITHSTAND": 148 / 226,
    },
    "physics.modules": {"STANDARD_TEMPERATURE": 25.0, "STANDARD_IRRADIANCE": 1000.0},  # IEC 61215
    "physics.extraction": {
        "STANDARD_CELL_TEMPERATURE": 25.0, "STANDARD_IRRADIANCE": 1000.0,
        "_STANDARD_KELVIN": 25.0 + 273.15,
    },
    "physics.single_diode": {"ZERO_CELSIUS": 273.15},
    "physics.conditions": {  # chosen: where a coefficient of power is met, and how far it may bend
        "HOT_CELL_TEMPERATURE": 60.0, "LARGEST_IDEALITY_DRIFT": 0.015,
        "PLAUSIBLE_IDEALITY_DRIFT": 0.008, "_MOST_IDEALITIES": 600.0,
    },
    "physics.arrays": {"BLOCKING_KNEE": 0.001},  # A, chosen
    "physics.cell_temperature": {"REFERENCE_WIND": 1.0},  # m/s, IEC 61215 MQT 05
    "physics.elements": {"DEFAULT_BYPASS_DROP": 0.5},  # V, silicon Schottky
    "codes.resistance": {  # 1000 ft; NEC chapter 9 table 8, at 75 °C; IEC 60228, at 20 °C
        "METRES_PER_KILOFOOT": 1000 * 0.3048, "GAUGE_TEMPERATURE": 75.0,
        "GAUGE_COEFFICIENT": 0.00323, "METRIC_TEMPERATURE": 20.0,
    },
    "codes.demands": {"METRES_PER_FOOT": 0.3048},
    "codes.small": {"EXPONENT": 0.625},  # IEC 60364-5-52 annex D, copper up to 16 mm²
    "codes.voltage": {"STANDARD_TEMPERATURE": 25.0},  # NEC 690.7
    "codes.marine": {"BASE_AMBIENT": 30.0},  # ABYC E-11 table, air of a cabin
    "codes.iec": {  # columns of IEC 60364-5-52, 30 °C of air; cables of EN 50618
        "LOWEST_COLUMN": 70.0, "LOWEST_INSULATION": 60.0, "COLUMN_RISE": 70.0 - 30.0,
        "PV_LEAST_INSULATION": 90.0,
    },
    "study.protection.at_once": {  # practice; IEC 60364-4-43 434.5.2 and table 43A
        "AT_ONCE": 10.0, "SHORT_LASTS": 0.1, "SHORT_WITHSTAND": 115.0,
    },
    "study.protection.ways": {"LINK": 1.0, "PACK_LEAD": 3.0},  # m
    "study.assumptions.ratings": {"FUSE_BEARS": 2.0},  # practice
    "study.wiring.devices": {"MAINS_VOLTAGE": 110.0, "BLADE_FACTOR": 1.25},
    "study.wiring.sharing": {"WORTH": 50.0, "FEWEST": 2, "ANYHOW": 3},
    "study.wiring.body_returns": {"BODY_CARRIES": 30.0},
    "study.wiring.brief": {
        "BEARS_BRIEFLY": 1.3, "SOME_MINUTES": 5 * 60.0, "SLOW_HOLDS": 1.25, "HOLDS": 1.1,
    },
    "study.wiring.ports": {"MOST_EXCLUSIVE": 12},
    "study.wiring.wires": {"COOL_AIR": 30.0, "TERMINALS": 75.0},  # NEC 110.14(C)
    "study.wiring.arresters": {"ABOVE": 2.0, "SPARE": 1.2},
    "study.wiring.settled": {"LEAST": 0.8},
    "study.array.labels": {"POWER_TOLERANCE": 0.03},
    "study.array.label_coefficients": {"THIN_FILM_HIGHEST": -0.0015},
    "study.array.switching": {"PLUG_VOLTS": 60.0, "PLUG_AMPS": 15.0},
    "study.limits": {
        "LEAST_POWER": 0.8, "LEAST_SPREAD": 0.05, "JOINT_RISE": 30.0, "ELEMENT_RISE": 50.0,
    },
}  # fmt: skip


@pytest.mark.parametrize("module", sorted(FIGURES))
def test_a_figure_is_that_of_its_source(module: str) -> None:
    held = importlib.import_module(f"wattproof.{module}")
    for name, figure in FIGURES[module].items():
        assert math.isclose(getattr(held, name), figure, rel_tol=1e-3), name
