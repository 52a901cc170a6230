"""Ampacity by methods of installation (IEC 60364-5-52), and of photovoltaic cable (EN 50618)."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from wattproof.codes.factors import ambient_factor, bundling_factor, law_factor
from wattproof.codes.grids import TOLERANCE, Grid, grid
from wattproof.codes.tables import table
from wattproof.codes.values import Ampacity, Surroundings, TableValue
from wattproof.physics.conductors import ConductorSize

LOWEST_COLUMN = 70.0
"""°C: the lowest column that IEC 60364-5-52 prints."""

LOWEST_INSULATION = 60.0
"""°C: the lowest insulation to which we extend that column."""

COLUMN_AMBIENT = 30.0
"""°C: the ambient of the figures that IEC 60364-5-52 prints."""

COLUMN_RISE = 40.0
"""K: the rise that the 70 °C column allows above its 30 °C ambient."""

PV_LEAST_INSULATION = 90.0
"""°C: photovoltaic cable is made for at least this; a lower figure is another cable."""


def installation_method_ampacity(
    rules: Mapping[str, Any],
    size: ConductorSize,
    insulation: float,
    around: Surroundings,
    _terminal: float | None,
    cable_kind: str | None,
) -> Ampacity:
    """Figure of the method that the surroundings allow, corrected for ambient and grouping.

    Temperatures in °C. Photovoltaic cable (``cable_kind`` "pv") has its own table. There is no
    rule on terminals. Raises NotTabulated.
    """
    photovoltaic = cable_kind == "pv" and insulation >= PV_LEAST_INSULATION - TOLERANCE
    read = _photovoltaic if photovoltaic else _general
    found = read(rules, size, insulation, around)
    return found._replace(notes=(*found.notes, rules["note"])) if "note" in rules else found


def sizes(rules: Mapping[str, Any]) -> tuple[ConductorSize, ...]:
    """All sizes of the two tables, ascending."""
    return _sizes_in(rules["table"], rules["pv_table"])


@cache
def _sizes_in(*tables: str) -> tuple[ConductorSize, ...]:
    areas = {float(row["area_mm2"]) for name in tables for row in table(name).rows}
    return tuple(map(ConductorSize, sorted(areas)))


def _general(
    rules: Mapping[str, Any], size: ConductorSize, insulation: float, around: Surroundings
) -> Ampacity:
    method, words = _method(rules, size, around)
    used, size_notes = method.fit_size(size)
    column_notes: tuple[str, ...]
    if LOWEST_INSULATION - TOLERANCE <= insulation < LOWEST_COLUMN - TOLERANCE:
        column = LOWEST_INSULATION
        column_notes = (
            f"IEC 60364-5-52 has no column for {insulation:g} °C insulation: its 70 °C column is "
            "scaled to 60 °C by the heat balance (our own extension)",
        )
        base = method.at(used, LOWEST_COLUMN)
        factor = law_factor(LOWEST_INSULATION, around.ambient, LOWEST_INSULATION - COLUMN_RISE)
    else:
        column, column_notes = method.fit_column(insulation)
        base = method.at(used, column)
        factor, hot = ambient_factor(rules["ambient_table"], column, insulation, around.ambient)
        if around.engine_space and insulation > column + TOLERANCE:
            factor, hot = _in_engine_space(factor, hot, column, insulation, around.ambient)
        column_notes += hot
    return Ampacity(
        used,
        base,
        factor,
        bundling_factor(rules["grouping_table"], _circuits(around)),
        None,
        column,
        (*size_notes, *column_notes, words),
    )


def _in_engine_space(
    printed: TableValue, notes: tuple[str, ...], column: float, insulation: float, ambient: float
) -> tuple[TableValue, tuple[str, ...]]:
    """The factor of cable that is made for engine spaces, by its own insulation where that is more.

    Such cable stands more than any column of the table, whose factor falls with what the column
    stands. Its figure stays that of the column.
    """
    law = law_factor(insulation, ambient, COLUMN_AMBIENT)
    if not printed.value < law.value <= 1.0:
        return printed, notes
    note = (
        f"in an engine space the factor for {ambient:g} °C is that of {insulation:g} °C insulation "
        f"by the heat balance, {law.source}, which gives {law.value:.2f}: the {column:g} °C column "
        f"prints {printed.value:.2f} (our own extension)"
    )
    return law, (note,)


def _photovoltaic(
    rules: Mapping[str, Any], size: ConductorSize, insulation: float, around: Surroundings
) -> Ampacity:
    arrangement, words = (
        ("single-in-free-air", "one cable free in air; keep the cables of the pair apart")
        if around.free_air
        else ("two-adjacent-on-surface", "two adjacent cables on a surface")
    )
    cable = grid(rules["pv_table"], "arrangement", arrangement, f", {words.split(';')[0]}")
    used, size_notes = cable.fit_size(size)
    column = cable.columns[0]
    notes = [*size_notes, f"photovoltaic cable, {words}"]
    if insulation < column:
        notes.append(
            f"declared for {insulation:g} °C; the table lets photovoltaic cable reach "
            f"{column:g} °C for at most 20 000 h, and 90 °C is its long-life temperature"
        )
    factor, hot = ambient_factor(rules["pv_ambient_table"], column, insulation, around.ambient)
    return Ampacity(
        used,
        cable.at(used, column),
        factor,
        bundling_factor(rules["grouping_table"], _circuits(around)),
        None,
        column,
        (*notes, *hot),
    )


def _method(
    rules: Mapping[str, Any], size: ConductorSize, around: Surroundings
) -> tuple[Grid, str]:
    if around.surface:
        return _by_method(rules, "C"), "read for method C, clipped to a surface"
    if not around.free_air:
        return _by_method(rules, "B1"), (
            "read for method B1, in conduit or trunking; a cable inside thermal insulation "
            "carries less"
        )
    free = _by_method(rules, "F")
    if size.area_mm2 >= free.sizes[0].area_mm2 * (1 - TOLERANCE):
        return free, "read for method F, single cores touching in free air"
    return _by_method(rules, "C"), (
        f"read for method C, clipped to a surface: method F starts at {free.sizes[0].name}"
    )


def _by_method(rules: Mapping[str, Any], method: str) -> Grid:
    return grid(rules["table"], "method", method, f", method {method}")


def _circuits(around: Surroundings) -> int:
    """Circuits of two loaded conductors each, rounded up."""
    return max(1, -(-around.loaded_conductors // 2))
