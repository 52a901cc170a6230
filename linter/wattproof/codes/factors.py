"""Factors on an ampacity, for the air around the conductor and for its neighbours."""

from collections.abc import Mapping
from functools import cache

from wattproof.codes.grids import TOLERANCE
from wattproof.codes.tables import is_verified, table
from wattproof.codes.values import NotTabulated, TableValue
from wattproof.physics.conductors import ambient_factor_law


def ambient_factor(name: str, column: float, ambient: float) -> TableValue:
    """Factor of the table ``name`` for an ambient and a column, both in °C.

    Between two rows the warmer one holds; nothing is interpolated. Above the column's last row
    the table allows no current: the factor is 0.
    """
    source = table(name).source
    rows = _ambient_rows(name)[column]
    for warmest, row in rows:
        if ambient <= warmest + TOLERANCE:
            return TableValue(
                float(row["factor"]),
                "",
                f"factor for {ambient:g} °C ambient with {column:g} °C insulation",
                f"{source}, row {row.get('band') or row['ambient_c']} °C, column {column:g} °C",
                is_verified(row),
            )
    return TableValue(
        0.0,
        "",
        f"no current allowed at {ambient:g} °C ambient with {column:g} °C insulation",
        f"{source}, column {column:g} °C ends at {rows[-1][0]:g} °C",
        is_verified(rows[-1][1]),
    )


@cache
def _ambient_rows(name: str) -> Mapping[float, list[tuple[float, Mapping[str, str]]]]:
    columns: dict[float, list[tuple[float, Mapping[str, str]]]] = {}
    for row in table(name).rows:
        columns.setdefault(float(row["insulation_c"]), []).append((float(row["ambient_c"]), row))
    return columns


def law_factor(conductor_temperature: float, ambient: float, base: float) -> TableValue:
    """The square-root law, where a body of rules has no table: our own extension.

    °C. ``base`` is the ambient at which the table's current heats the conductor to its limit.
    """
    return TableValue(
        ambient_factor_law(conductor_temperature, ambient, base),
        "",
        f"factor for {ambient:g} °C ambient",
        f"square-root law, sqrt(({conductor_temperature:g} - {ambient:g})/"
        f"{conductor_temperature - base:g})",
        False,
        own=True,
    )


def bundling_factor(name: str, count: int) -> TableValue:
    """Factor of the table ``name`` for conductors (or circuits, as the table counts) together.

    Between two rows the larger count holds. Raises NotTabulated beyond the last row.
    """
    whole = table(name)
    word = "circuits" if "circuits" in whole.rows[0] else "conductors"
    for row in whole.rows:
        if not row["up_to"] or count <= int(row["up_to"]):
            return TableValue(
                float(row["factor"]),
                "",
                f"factor for {count} {word} together",
                f"{whole.source}, row {row[word]} {word}",
                is_verified(row),
            )
    raise NotTabulated(f"{whole.source} ends before {count} {word} together")
