"""Types of cable by the designation that is printed on them, and what their standards say."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from wattproof.codes.tables import is_verified, table


class CableType(NamedTuple):
    """A type of cable. Empty texts and None where its standard leaves it open.

    ``insulation_temperature`` and ``voltage`` are texts with their unit, as a label has them: the
    voltage for DC where the standard names one, else that between conductors.
    """

    name: str
    title: str
    kind: str
    insulation_temperature: str
    voltage: str
    outdoor: bool | None
    direct_burial: bool | None
    strands: str
    source: str
    verified: bool


def cable_types() -> Mapping[str, CableType]:
    """All types by their designation."""
    return _types()


def cable_type(printed: str) -> CableType | None:
    """The type of a printed designation, whatever its case and spaces; None where not known."""
    return _by_letters().get(_letters(printed))


def _letters(printed: str) -> str:
    return "".join(sign for sign in printed.upper() if sign.isalnum())


@cache
def _by_letters() -> Mapping[str, CableType]:
    return {_letters(name): made for name, made in _types().items()}


@cache
def _types() -> Mapping[str, CableType]:
    return {row["type"]: _type(row) for row in table("cable-types").rows}


def _type(row: Mapping[str, str]) -> CableType:
    said = {"yes": True, "no": False, "": None}
    return CableType(
        row["type"],
        row["title"],
        row["kind"],
        f"{row['temperature']} °C" if row["temperature"] else "",
        f"{row['voltage']} V" if row["voltage"] else "",
        said[row["outdoor"]],
        said[row["direct_burial"]],
        row["strands"],
        row["source"],
        is_verified(row),
    )
