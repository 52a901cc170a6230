"""What a body of rules forbids, asks for besides figures, and says of itself."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from wattproof.codes.figures import figure
from wattproof.codes.tables import is_verified, table
from wattproof.codes.values import TableValue
from wattproof.physics.conductors import (
    SQUARE_MILLIMETRES_PER_KCMIL,
    ConductorSize,
    conductor_of_gauge,
)

METRES_PER_FOOT = 0.3048

FORBIDDABLE = ("body-return", "welding-cable", "loose-frames", "self-resetting-breaker")
"""Currents back through chassis, hull or earth; welding cable as fixed wiring; metal frames of
modules that nothing bonds, at any voltage; breakers that close again by themselves."""

OHM_SQUARE_MILLIMETRES_PER_METRE: Mapping[str, float] = {
    "ohm mm²/m": 1.0,
    "ohm cmil/ft": SQUARE_MILLIMETRES_PER_KCMIL / 1000 / METRES_PER_FOOT,
}

SLACK = 1.002
"""Between the areas that tables print for one gauge."""


class BodyNote(NamedTuple):
    """What every result by a body of rules should say of it: in ``says``, and what to find out."""

    key: str
    says: str
    instead: str


class Ban(NamedTuple):
    """Something that a body of rules forbids outright in some settings, empty where in none."""

    settings: tuple[str, ...]
    source: str
    verified: bool


class ParallelSize(NamedTuple):
    """The smallest conductor that is run in parallel with others for one pole.

    ``advice`` is True where the body of rules says nothing itself and takes another's word.
    """

    size: ConductorSize
    figure: TableValue
    advice: bool


class LeastSize(NamedTuple):
    """The least conductor that may be used for something."""

    size: ConductorSize
    figure: TableValue


class RoofAdder(NamedTuple):
    """Kelvin on the air outside for a conduit less than ``under`` metres over a roof in the sun."""

    adds: TableValue
    under: float


class BuildingDemand(NamedTuple):
    """What an array on a building must have; ``from_volts`` is None where at any voltage.

    ``against`` is "arcs" where a rule of its own asks for it, else empty.
    """

    asks: str
    from_volts: TableValue | None
    source: str
    against: str = ""


def notes(data: Mapping[str, Any], setting: str, side: str) -> Iterator[BodyNote]:
    """Notes of a body of rules for a setting and a side."""
    for note in data.get("notes", ()):
        if setting in note.get("settings", (setting,)) and side in note.get("sides", (side,)):
            yield BodyNote(note["key"], note["says"], note["instead"])


def ban(data: Mapping[str, Any], what: str) -> Ban:
    """Where something is forbidden. Raises ValueError unless it is one of FORBIDDABLE."""
    if what not in FORBIDDABLE:
        raise ValueError(f"{what!r} is not one of {', '.join(FORBIDDABLE)}")
    entry = data["forbids"][what]
    return Ban(tuple(entry["settings"]), entry["source"], entry["verified"])


def parallel_size(data: Mapping[str, Any]) -> ParallelSize | None:
    """The smallest conductor for runs in parallel; None where none is named."""
    entry = data.get("parallel_conductors")
    if entry is None:
        return None
    size = _size(entry)
    least = TableValue(size.area_mm2, "mm²", entry["what"], entry["source"], entry["verified"])
    return ParallelSize(size, least, entry.get("advice", False))


def bond_size(
    data: Mapping[str, Any], made: Sequence[ConductorSize], setting: str, largest: float | None
) -> LeastSize | None:
    """The least conductor to the chassis or the water; None where none is stated.

    ``made`` are the sizes of the body's tables, ascending. ``largest`` is the copper (mm²) of the
    largest negative conductor, None where there is none.
    """
    entry = data.get("bond")
    if entry is None or setting not in entry.get("settings", (setting,)):
        return None
    match entry["rule"]:
        case "least":
            return _bond(next(size for size in made if size.gauge == entry["gauge"]), "", entry)
        case "one-size-below":
            sold = [size for size in made if size.gauge not in entry["not_made"]]
            below = [size for size in sold if largest and size.area_mm2 * SLACK < largest]
            return (
                _bond(below[-1], "one size below the largest negative, ", entry) if below else None
            )
        case other:
            raise ValueError(f"{other!r} is not a rule for conductors to the chassis")


def thinnest_conductor(data: Mapping[str, Any], *, enclosed: bool) -> LeastSize | None:
    """The thinnest conductor for its strength, alone or in a sheath; None where none is stated."""
    entry = data.get("thinnest_conductor")
    if entry is None:
        return None
    size = _size(entry["enclosed" if enclosed else "alone"])
    what = "thinnest conductor allowed" + (" in a sheath" if enclosed else "")
    figure = TableValue(size.area_mm2, "mm²", what, entry["source"], entry["verified"])
    return LeastSize(size, figure)


def building_demands(data: Mapping[str, Any]) -> Iterator[BuildingDemand]:
    """What an array on a building must have."""
    for entry in data["building"]:
        volts = entry.get("from_volts")
        what = f"voltage from which it has {entry['asks']}"
        limit = None if volts is None else TableValue(volts, "V", what, entry["source"], False)
        yield BuildingDemand(entry["asks"], limit, entry["source"], entry.get("against", ""))


def pack_device(data: Mapping[str, Any]) -> TableValue | None:
    """Capacity in Ah of packs in parallel above which each has a device; None where not stated."""
    entry = data.get("pack_device")
    return None if entry is None else figure(entry)


def roof_adder(data: Mapping[str, Any]) -> RoofAdder | None:
    """What the sun on a roof adds to the air around a conduit; None where not stated."""
    entry = data.get("roof_adder")
    return None if entry is None else RoofAdder(figure(entry), entry["under"])


def equipment_grounding(data: Mapping[str, Any], amps: float) -> LeastSize | None:
    """The least equipment grounding conductor behind a device of a rating in A."""
    entry = data.get("equipment_grounding")
    if entry is None:
        return None
    whole = table(entry["table"])
    for row in whole.rows:
        if amps <= float(row["amps"]):
            size = conductor_of_gauge(row["size"])
            what = f"least equipment grounding conductor behind {amps:g} A: {size.name}"
            source = f"{whole.source}, row {row['amps']} A"
            return LeastSize(size, TableValue(size.area_mm2, "mm²", what, source, is_verified(row)))
    return None


def branch_breaker(data: Mapping[str, Any], amps: float, nominal: float) -> TableValue | None:
    """What a breaker behind a main device has to interrupt on lead batteries of a short in A.

    The table goes by the batteries' cold cranking amperes. Its own figure for the main breaker
    stands for them here, which is on the safe side: a battery drives more than that figure into a
    short where its cranking current is near the end of a row. None above the nominal voltage in V
    that the table is for, and where the body has no such table.
    """
    entry = data.get("branch_breakers")
    if entry is None or nominal > entry["up_to_volts"]:
        return None
    whole = table(entry["table"])
    row = next((r for r in whole.rows if amps <= float(r["main"])), whole.rows[-1])
    what = f"least interrupt rating of a branch breaker on lead that drives {amps:.4g} A"
    return TableValue(float(row["branch"]), "A", what, whole.source, is_verified(row))


def drop_resistance(data: Mapping[str, Any], size: ConductorSize) -> TableValue | None:
    """Resistance in ohm/m of a size by the body's own formula for voltage drop, if it has one.

    Its resistivity is in ohm circular mils a foot, or in ohm mm²/m, of one conductor.
    """
    entry = data.get("drop_formula")
    if entry is None:
        return None
    stated = figure(entry)
    per_area = stated.value * OHM_SQUARE_MILLIMETRES_PER_METRE[stated.unit]
    return TableValue(
        per_area / size.area_mm2,
        "ohm/m",
        f"resistance of {size.name} by the body's own formula for voltage drop",
        stated.source,
        stated.verified,
    )


def _size(entry: Mapping[str, Any]) -> ConductorSize:
    return (
        conductor_of_gauge(entry["gauge"]) if "gauge" in entry else ConductorSize(entry["area_mm2"])
    )


def _bond(size: ConductorSize, words: str, entry: Mapping[str, Any]) -> LeastSize:
    what = f"least tie to the chassis or the water: {words}{size.name}"
    return LeastSize(
        size, TableValue(size.area_mm2, "mm²", what, entry["source"], entry["verified"])
    )
