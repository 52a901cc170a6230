"""Cold open-circuit voltage where a module's coefficient is not known."""

from wattproof.codes.grids import TOLERANCE
from wattproof.codes.tables import is_verified, table
from wattproof.codes.values import TableValue

STANDARD_TEMPERATURE = 25.0
"""°C: the cell temperature of a module's label."""


def voltage_factor(name: str, coldest: float) -> TableValue | None:
    """Factor of the table ``name`` on open-circuit voltage at a temperature in °C.

    Between two bands the colder one holds. 1 from 25 °C up, None below the last band.
    """
    whole = table(name)
    if coldest >= STANDARD_TEMPERATURE:
        return TableValue(1.0, "", "no correction at 25 °C or above", whole.source, True)
    for row in whole.rows:
        if coldest >= float(row["coldest_c"]) - TOLERANCE:
            return TableValue(
                float(row["factor"]),
                "",
                f"factor on open-circuit voltage at {coldest:g} °C",
                f"{whole.source}, row {row['band']} °C (crystalline silicon only)",
                is_verified(row),
            )
    return None
