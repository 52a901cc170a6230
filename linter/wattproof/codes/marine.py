"""Ampacity of small craft: a table by insulation, a factor for engine spaces."""

from collections.abc import Mapping
from typing import Any

from wattproof.codes.factors import bundling_factor, law_factor
from wattproof.codes.figures import figure
from wattproof.codes.grids import TOLERANCE, grid
from wattproof.codes.tables import is_verified, table
from wattproof.codes.values import Ampacity, NotTabulated, Surroundings, TableValue
from wattproof.physics.conductors import ConductorSize

BASE_AMBIENT = 30.0
"""°C: the ambient of both marine tables."""

ROUNDING = 0.02
"""Share by which a printed factor may lie above the square-root law without remark."""


def engine_space_ampacity(
    rules: Mapping[str, Any],
    size: ConductorSize,
    insulation: float,
    around: Surroundings,
    _terminal: float | None,
    _cable_kind: str | None,
) -> Ampacity:
    """Table figure, times the engine-space factor or, elsewhere above 30 °C, the square-root law.

    Temperatures in °C. The law outside engine spaces is our own extension: the marine bodies
    correct for engine spaces only. There is no rule on terminals. Raises NotTabulated.
    """
    amps = grid(rules["table"])
    used, size_notes = amps.fit_size(size)
    column, column_notes = amps.fit_column(insulation)
    ambient, ambient_notes = _ambient(rules, column, insulation, around)
    bundling, bundling_notes = _bundling(rules, around)
    cool = around.engine_space and insulation < rules["engine_insulation"]["value"] - TOLERANCE
    return Ampacity(
        used,
        amps.at(used, column),
        ambient,
        bundling,
        None,
        column,
        (
            *size_notes,
            *column_notes,
            *ambient_notes,
            *bundling_notes,
            *_beyond_scope(rules, around),
        ),
        ambient.what if cool else None,
    )


def _ambient(
    rules: Mapping[str, Any], column: float, insulation: float, around: Surroundings
) -> tuple[TableValue, tuple[str, ...]]:
    if around.engine_space:
        return _engine_space(rules, column, insulation, around.ambient)
    if around.ambient <= BASE_AMBIENT:
        what = "no correction up to 30 °C ambient"
        return TableValue(1.0, "", what, f"{table(rules['table']).source}, 30 °C ambient", True), ()
    return law_factor(insulation, around.ambient, BASE_AMBIENT), ()


def _engine_space(
    rules: Mapping[str, Any], column: float, insulation: float, ambient: float
) -> tuple[TableValue, tuple[str, ...]]:
    """The printed factor; in a hotter engine space than it is made for, the law where less.

    0 where the insulation may not be there at all.
    """
    least = rules["engine_insulation"]
    if insulation < least["value"] - TOLERANCE:
        what = f"{insulation:g} °C insulation is not allowed in an engine space: {least['what']}"
        return TableValue(0.0, "", what, least["source"], least["verified"]), ()
    printed = _engine_factor(rules["engine_table"], column)
    law = law_factor(insulation, ambient, BASE_AMBIENT)
    if law.value >= printed.value:
        return printed, ()
    if not ambient <= rules["engine_ambient"]:
        return law, ()
    if law.value >= printed.value * (1 - ROUNDING):
        return printed, ()
    return printed, (
        f"the printed engine-space factor is {printed.value:g}; the heat balance at {ambient:g} °C "
        f"would allow {law.value:.2f}",
    )


def _engine_factor(name: str, column: float) -> TableValue:
    for row in table(name).rows:
        if float(row["insulation_c"]) == column:
            return TableValue(
                float(row["factor"]),
                "",
                f"factor for an engine space with {column:g} °C insulation",
                f"{table(name).source}, row {column:g} °C",
                is_verified(row),
            )
    raise NotTabulated(f"{table(name).source} has no row for {column:g} °C insulation")


def _bundling(rules: Mapping[str, Any], around: Surroundings) -> tuple[TableValue, tuple[str, ...]]:
    if around.loaded_conductors < rules["bundling_from_conductors"]:
        return figure(rules["no_bundling"]), ()
    factor = bundling_factor(rules["bundling_table"], around.loaded_conductors)
    return factor, (f"{around.loaded_conductors} loaded conductors together: {rules['bundling']}",)


def _beyond_scope(rules: Mapping[str, Any], around: Surroundings) -> tuple[str, ...]:
    limit = rules.get("scope_volts")
    if limit is None or around.circuit_voltage <= limit:
        return ()
    return (f"{around.circuit_voltage:g} V is above the {limit:g} V for which the table is made",)
