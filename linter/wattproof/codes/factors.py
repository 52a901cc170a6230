"""Factors on an ampacity, for the air around the conductor and for its neighbours."""

from collections.abc import Mapping
from functools import cache

from wattproof.codes.grids import TOLERANCE
from wattproof.codes.tables import is_verified, table
from wattproof.codes.values import NotTabulated, TableValue
from wattproof.physics.conductors import ambient_factor_law


def ambient_factor(
    name: str, column: float, insulation: float, ambient: float
) -> tuple[TableValue, tuple[str, ...]]:
    """Factor of the table ``name`` for an ambient and a column, all in °C, and notes on it.

    Between two rows the warmer one holds; nothing is interpolated. Above the column's last row
    the heat balance holds on which such tables rest, never more than the last row: see
    :func:`_above`.
    """
    source = table(name).source
    rows = _ambient_rows(name)[column]
    for warmest, row in rows:
        if ambient <= warmest + TOLERANCE:
            factor = TableValue(
                float(row["factor"]),
                "",
                f"factor for {ambient:g} °C ambient with {column:g} °C insulation",
                f"{source}, row {row.get('band') or row['ambient_c']} °C, column {column:g} °C",
                is_verified(row),
            )
            return factor, ()
    return _above(source, column, insulation, ambient, rows)


Rows = list[tuple[float, Mapping[str, str]]]


def _above(
    source: str, column: float, insulation: float, ambient: float, rows: Rows
) -> tuple[TableValue, tuple[str, ...]]:
    """The factor above the end of a column: the root of the ratio of temperature margins.

    0 where the air is as hot as the insulation stands.
    """
    base = next(warmest for warmest, row in rows if float(row["factor"]) == 1.0)
    end, last = rows[-1]
    if not ambient < insulation:
        what = f"no current at {ambient:g} °C ambient: the insulation stands {insulation:g} °C"
        return TableValue(0.0, "", what, source, True), ()
    law = law_factor(insulation, ambient, base)
    note = (
        f"{source} ends at {end:g} °C for {column:g} °C insulation: at {ambient:g} °C the "
        f"heat balance behind it is taken, {law.source}, which gives {law.value:.2f}"
    )
    printed = float(last["factor"])
    if law.value <= printed:
        return law, (note,)
    what = f"factor for {ambient:g} °C ambient: not above the last that is printed"
    at_end = f"{source}, row {last.get('band') or last['ambient_c']} °C, column {column:g} °C"
    return (
        TableValue(printed, "", what, at_end, is_verified(last), own=True),
        (f"{note}; not above the last factor that it prints, {printed:g}",),
    )


@cache
def _ambient_rows(name: str) -> Mapping[float, Rows]:
    columns: dict[float, Rows] = {}
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
