"""Resistance of copper conductors by the conductor standards, and of other metals."""

from collections.abc import Mapping
from functools import cache

from wattproof.codes.tables import is_verified, table
from wattproof.codes.values import TableValue
from wattproof.physics.conductors import (
    COPPER_COEFFICIENT,
    COPPER_RESISTIVITY,
    ConductorSize,
    gauge_name,
)

METRES_PER_KILOFOOT = 304.8

GAUGE_TEMPERATURE = 75.0
"""°C of NEC Chapter 9 Table 8."""

GAUGE_COEFFICIENT = 0.00323
"""Per kelvin, referred to 75 °C: NEC Chapter 9 Table 8, note 2."""

METRIC_TEMPERATURE = 20.0
"""°C of IEC 60228."""

ODD_SIZE_FACTORS: Mapping[str, float] = {"flexible": 1.16, "stranded": 1.13}
"""Over the resistance of the nominal area in pure copper, for sizes in no table: our own extension.
Just above the largest such ratio of IEC 60228 (class 5: 1.157, class 2: 1.122)."""

TINNED_ODD_SIZE_FACTORS: Mapping[str, float] = {"flexible": 1.20, "stranded": 1.14}
"""Likewise for tinned copper (class 5: 1.192, class 2: 1.131)."""


def resistance(
    size: ConductorSize, class_: str = "flexible", *, tinned: bool = False
) -> tuple[TableValue, float, float]:
    """Resistance of copper in ohm/m, its temperature in °C, and its coefficient per kelvin there.

    A gauge is read in NEC Chapter 9 Table 8 (stranded, 75 °C), an area in IEC 60228 (20 °C;
    class 5 for "flexible", class 2 for "stranded"); both have columns of their own for ``tinned``
    copper. A size in neither table takes its nominal area with a factor on the careful side for
    drop and heat. Table figures of IEC 60228 are the highest allowed. Raises ValueError for
    another class.
    """
    if class_ not in ODD_SIZE_FACTORS:
        raise ValueError(f"{class_!r} is not a conductor class: flexible or stranded")
    if size.gauge is not None and (size.gauge, tinned) in _by_gauge():
        return _by_gauge()[size.gauge, tinned], GAUGE_TEMPERATURE, GAUGE_COEFFICIENT
    area = round(size.area_mm2, 6)
    if size.gauge is None and (area, class_, tinned) in _by_area():
        return _by_area()[area, class_, tinned], METRIC_TEMPERATURE, COPPER_COEFFICIENT
    factor = (TINNED_ODD_SIZE_FACTORS if tinned else ODD_SIZE_FACTORS)[class_]
    computed = TableValue(
        COPPER_RESISTIVITY / size.area_mm2 * factor,
        "ohm/m",
        f"resistance of {size.name} copper at 20 °C",
        f"{size.name} is in no table: resistivity of IEC 60028 over the area, times {factor:g}",
        False,
        own=True,
    )
    return computed, METRIC_TEMPERATURE, COPPER_COEFFICIENT


@cache
def _by_gauge() -> Mapping[tuple[str, bool], TableValue]:
    whole = table("nec-chapter-9-table-8-resistance")
    return {
        (row["size"], tinned): TableValue(
            float(row[column]) / METRES_PER_KILOFOOT,
            "ohm/m",
            f"resistance of {gauge_name(row['size'])} {metal}, stranded, at 75 °C",
            f"{whole.source}, row {gauge_name(row['size'])}, {row[column]} ohm per 1000 ft",
            is_verified(row),
        )
        for row in whole.rows
        for tinned, metal, column in _metals("ohm_per_kft")
    }


@cache
def _by_area() -> Mapping[tuple[float, str, bool], TableValue]:
    whole = table("iec-60228-resistance")
    return {
        (float(row["area_mm2"]), row["class"], tinned): TableValue(
            float(row[column]) / 1000,
            "ohm/m",
            f"highest resistance of {row['area_mm2']} mm² {metal}, {row['class']}, at 20 °C",
            f"{whole.source}, row {row['area_mm2']} mm²",
            is_verified(row),
        )
        for row in whole.rows
        for tinned, metal, column in _metals("ohm_per_km")
    }


def _metals(column: str) -> tuple[tuple[bool, str, str], ...]:
    """Whether tinned, what it is called, and its column in a table."""
    return (False, "copper", column), (True, "tinned copper", f"tinned_{column}")


def known_materials() -> tuple[str, ...]:
    """Names of the conductor materials for which there are factors."""
    return tuple(row["material"] for row in table("conductor-materials").rows)


def material_factor(material: str) -> tuple[TableValue, TableValue]:
    """Factors on the resistance and on the ampacity of copper of the same area.

    Raises ValueError for a material that is not one of :func:`known_materials`.
    """
    whole = table("conductor-materials")
    for row in whole.rows:
        if row["material"] == material:
            source = f"{whole.source}: {row['why']}"
            verified = is_verified(row)
            return (
                TableValue(
                    float(row["resistance"]), "", f"resistance of {material}", source, verified
                ),
                TableValue(float(row["ampacity"]), "", f"ampacity of {material}", source, verified),
            )
    raise ValueError(f"{material!r} is not one of {', '.join(known_materials())}")
