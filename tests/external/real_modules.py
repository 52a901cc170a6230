"""Real modules: the crystalline ones of the CEC list that comes with pvlib.

How a datasheet is made of a row: the columns V_oc_ref, I_sc_ref, V_mp_ref, I_mp_ref, N_s are the
declared values; beta_oc (V/K) and alpha_sc (A/K) are absolute coefficients already; gamma_r is in
%/K, so it is divided by 100. The fitted columns (a_ref, I_L_ref, I_o_ref, R_s, R_sh_ref, Adjust)
are not used for it: they are the reference's own model, to compare with.
"""

import random
from functools import cache
from typing import Any

import pvlib

from wattproof.physics.extraction import Datasheet

CRYSTALLINE = ("Mono-c-Si", "Multi-c-Si")
TEMPERATURES = (-20.0, 70.0)  # °C


@cache
def crystalline_modules() -> Any:
    """Return the table of crystalline modules, one row a module."""
    table = pvlib.pvsystem.retrieve_sam("cecmod").T
    return table[table["Technology"].isin(CRYSTALLINE)]


def sample(count: int, seed: int) -> Any:
    """Return `count` rows chosen with `seed`; all where there are not more."""
    table = crystalline_modules()
    if count >= len(table):
        return table
    return table.iloc[sorted(random.Random(seed).sample(range(len(table)), count))]


def datasheets(table: Any) -> list[Datasheet]:
    """Return what the maker of each row declares."""
    columns = ("V_oc_ref", "I_sc_ref", "V_mp_ref", "I_mp_ref", "N_s", "beta_oc", "alpha_sc")
    rows = zip(*(table[name] for name in (*columns, "gamma_r")), strict=True)
    return [
        Datasheet(
            voc=float(voc),
            isc=float(isc),
            vmp=float(vmp),
            imp=float(imp),
            cells_in_series=int(cells),
            voc_coefficient=float(beta),
            isc_coefficient=float(alpha),
            pmax_coefficient=float(gamma) / 100.0,
        )
        for voc, isc, vmp, imp, cells, beta, alpha, gamma in rows
    ]


def reference(table: Any, cell_temperature: float, irradiance: float = 1000.0) -> Any:
    """Return the characteristic points of the reference's own model, columns one value a row."""
    columns = ("alpha_sc", "a_ref", "I_L_ref", "I_o_ref", "R_sh_ref", "R_s", "Adjust")
    arrays = (table[name].to_numpy(dtype=float) for name in columns)
    parameters = pvlib.pvsystem.calcparams_cec(irradiance, cell_temperature, *arrays)
    return pvlib.pvsystem.singlediode(*parameters)
