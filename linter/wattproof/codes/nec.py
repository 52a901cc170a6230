"""Ampacity where terminals have columns of their own (National Electrical Code)."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from wattproof.codes.factors import ambient_factor, bundling_factor
from wattproof.codes.grids import TOLERANCE, grid
from wattproof.codes.tables import is_verified, table
from wattproof.codes.values import Ampacity, Surroundings, TableValue
from wattproof.physics.conductors import ConductorSize, conductor_of_gauge, gauge_area_mm2


def terminal_column_ampacity(
    rules: Mapping[str, Any],
    size: ConductorSize,
    insulation: float,
    around: Surroundings,
    terminal: float | None,
    _cable_kind: str | None,
) -> Ampacity:
    """Figure of the insulation's column, corrected; and the terminal's column, uncorrected.

    Temperatures in °C. Terminals are read in the raceway table even for a conductor in free air
    (110.14(C)(1)), and never in a column above the insulation's own. Raises NotTabulated.
    """
    raceway = grid(rules["table"])
    lying = grid(rules["free_air_table"]) if around.free_air else raceway
    used, size_notes = lying.fit_size(size)
    column, column_notes = lying.fit_column(insulation)
    base = lying.at(used, column)
    notes = [*size_notes, *column_notes]
    if terminal is None:
        small = used.area_mm2 <= gauge_area_mm2(rules["small_terminals_up_to"])
        terminal = rules["small_terminals"] if small else rules["large_terminals"]
        notes.append(f"terminals not declared: taken as {terminal:g} °C (NEC 110.14(C)(1))")
    terminal_column, _ = raceway.fit_column(min(terminal, column))
    ambient, ambient_notes = ambient_factor(
        rules["ambient_table"], column, insulation, around.ambient
    )
    notes += ambient_notes
    return Ampacity(
        used,
        base,
        ambient,
        bundling_factor(rules["bundling_table"], around.loaded_conductors),
        _terminal_limit(rules, used, terminal_column),
        column,
        tuple(notes),
    )


def _terminal_limit(rules: Mapping[str, Any], used: ConductorSize, column: float) -> TableValue:
    """Figure of the terminal's column; for 18 and 16 AWG, which have none below 90 °C, the cap."""
    raceway = grid(rules["table"])
    if (used, column) not in raceway.cells:
        cap = small_conductor_cap(rules["small_conductor_table"], used)
        if cap is not None:
            return cap
    figure = raceway.at(used, column)
    return TableValue(
        figure.value,
        "A",
        f"ampacity of {used.name} on {column:g} °C terminals, uncorrected",
        f"{figure.source}, by 110.14(C)",
        figure.verified,
    )


def small_conductor_cap(name: str, size: ConductorSize) -> TableValue | None:
    """Largest device in A for a small conductor (240.4(D)); None where it has no cap.

    A size that has no row is held to that of the next smaller one; the smallest holds all below it.
    """
    rows = _capped(name)
    if size.area_mm2 > max(each.area_mm2 for each in rows) * (1 + TOLERANCE):
        return None
    smaller = [each for each in rows if each.area_mm2 <= size.area_mm2 * (1 + TOLERANCE)]
    held = max(smaller or [min(rows, key=_area)], key=_area)
    condition = f"; {rows[held]['condition']}" if rows[held]["condition"] else ""
    return TableValue(
        float(rows[held]["amps"]),
        "A",
        f"largest overcurrent device for {size.name}",
        f"{table(name).source}, row {held.name}{condition}",
        is_verified(rows[held]),
        own=held != size,
    )


@cache
def _capped(name: str) -> Mapping[ConductorSize, Mapping[str, str]]:
    """The rows of the table of caps by their sizes."""
    return {conductor_of_gauge(row["size"]): row for row in table(name).rows}


def _area(size: ConductorSize) -> float:
    return size.area_mm2
