"""Ampacity tables as grids of sizes and insulation columns, and how to find a place in one."""

import math
from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from wattproof.codes.tables import is_verified, table
from wattproof.codes.values import NotTabulated, TableValue
from wattproof.physics.conductors import ConductorSize, conductor_of_gauge

TOLERANCE = 1e-6
"""Slack for temperatures in °C and, relatively, for areas: units were converted on the way."""

REACH = 1.15
"""A conductor up to this much larger than the last row may be read in the last row: 4/0 AWG
(107 mm²) as 95 mm². Anything larger is not in the table."""


class Grid(NamedTuple):
    """Sizes ascending, insulation columns ascending in °C, and the figure in A where they meet."""

    source: str
    sizes: tuple[ConductorSize, ...]
    columns: tuple[float, ...]
    cells: Mapping[tuple[ConductorSize, float], TableValue]

    def fit_size(self, asked: ConductorSize) -> tuple[ConductorSize, tuple[str, ...]]:
        """The table's row for a conductor: its own size, else the largest that is not larger.

        Returns the size and a note where it is another. Raises NotTabulated below the smallest
        row, or well above the largest.
        """
        for size in self.sizes:
            if asked.gauge is not None and size.gauge == asked.gauge:
                return size, ()
            if asked.gauge == size.gauge and _same(asked.area_mm2, size.area_mm2):
                return size, ()
        limit = asked.area_mm2 * (1 + TOLERANCE)
        smaller = [size for size in self.sizes if size.area_mm2 <= limit]
        if not smaller:
            raise NotTabulated(
                f"{asked.name} is smaller than {self.sizes[0].name}, the smallest conductor "
                f"of {self.source}"
            )
        if asked.area_mm2 > self.sizes[-1].area_mm2 * REACH:
            raise NotTabulated(
                f"{asked.name} is larger than {self.sizes[-1].name}, the largest conductor "
                f"of {self.source}"
            )
        used = smaller[-1]
        return used, (
            f"{self.source} has no {_described(asked)}: read as {_described(used)}, "
            "the largest size that is not larger",
        )

    def fit_column(self, insulation: float) -> tuple[float, tuple[str, ...]]:
        """The column for an insulation temperature in °C: its own, else the next lower.

        Returns the column and a note where it is another. Raises NotTabulated below the lowest.
        """
        lower = [column for column in self.columns if column <= insulation + TOLERANCE]
        if not lower:
            raise NotTabulated(
                f"{self.source} has no column for {insulation:g} °C insulation: "
                f"its lowest is {self.columns[0]:g} °C"
            )
        column = lower[-1]
        if insulation - column <= TOLERANCE:
            return column, ()
        return column, (f"{insulation:g} °C insulation is read in the {column:g} °C column",)

    def at(self, size: ConductorSize, column: float) -> TableValue:
        """The figure of one cell in A. Raises NotTabulated where the table leaves it empty."""
        cell = self.cells.get((size, column))
        if cell is None:
            raise NotTabulated(f"{self.source} gives no figure for {size.name} at {column:g} °C")
        return cell


@cache
def grid(name: str, where: str = "", equals: str = "", label: str = "") -> Grid:
    """The ampacity table ``name``, or those of its rows whose cell ``where`` is ``equals``.

    ``label`` is put after the table's name in the source of every figure.
    """
    whole = table(name)
    cells: dict[tuple[ConductorSize, float], TableValue] = {}
    for row in whole.rows:
        if not where or row[where] == equals:
            size = _size(row)
            column = float(row["insulation_c"])
            cells[size, column] = TableValue(
                float(row["amps"]),
                "A",
                f"ampacity of {size.name} with {column:g} °C insulation",
                f"{whole.source}{' Table ' + row['table'] if 'table' in row else ''}{label}, "
                f"row {size.name}, column {column:g} °C",
                is_verified(row),
            )
    sizes = sorted({size for size, _ in cells}, key=lambda size: size.area_mm2)
    columns = sorted({column for _, column in cells})
    return Grid(whole.source + label, tuple(sizes), tuple(columns), cells)


def _size(row: Mapping[str, str]) -> ConductorSize:
    if "size" in row:
        return conductor_of_gauge(row["size"])
    return ConductorSize(float(row["area_mm2"]))


def _described(size: ConductorSize) -> str:
    return size.name if size.gauge is None else f"{size.name} ({size.area_mm2:.4g} mm²)"


def _same(one: float, other: float) -> bool:
    return math.isclose(one, other, rel_tol=TOLERANCE)
