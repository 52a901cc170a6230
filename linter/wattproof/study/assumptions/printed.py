"""Where the value of a key is printed or seen, from the tables of this folder."""

from __future__ import annotations

from functools import cache
from typing import Final, NamedTuple

from wattproof.plan.fields import Named, Part
from wattproof.study.assumptions import (
    batteries,
    cables,
    climate,
    devices,
    energy,
    labels,
    modules,
    readings,
    units,
)
from wattproof.study.assumptions.rows import Assumed, Silence

TABLES: Final = (
    labels,
    climate,
    modules,
    cables,
    devices,
    batteries,
    energy,
    units,
    readings,
)


class _Row(NamedTuple):
    """Where something is printed. settles: of the row; table: all that its table settles."""

    where: str
    settles: str
    table: frozenset[str]


def where_printed(model: type[Part], key: str) -> str:
    """Where the value of a key is printed or seen; empty where that is not known for certain.

    Rows that are of this very key come first, then rows of a table on kin of the model (a breaker
    is looked at as a fuse is), then what all that is left agrees on.
    """
    own = f"{model.__name__}.{key}"
    rows = _rows().get(key, ())
    kin = {f"{name}.{key}" for name in _kin(model)}
    for fits in (
        [row for row in rows if row.settles == own],
        [row for row in rows if not row.settles and own in row.table],
        [row for row in rows if row.settles in kin],
        [row for row in rows if not row.settles],
    ):
        if len({row.where for row in fits}) == 1:
            return fits[0].where
        if fits:
            return ""
    return ""


def _kin(model: type[Part]) -> set[str]:
    """Models that are of one kind with a model."""
    shared = [each for each in model.__mro__ if issubclass(each, Part)]
    bases = [each for each in shared if each not in (Part, Named)]
    return {kin.__name__ for base in bases for kin in (base, *base.__subclasses__())}


@cache
def _rows() -> dict[str, tuple[_Row, ...]]:
    """All rows that tell where something is printed, by key."""
    found: dict[str, list[_Row]] = {}
    for table in TABLES:
        held = list(vars(table).values())
        settled = frozenset(each.settles for each in held if isinstance(each, Assumed))
        for row in held:
            if isinstance(row, Silence) and row.look_up is not None:
                settles = row.usual.settles if row.usual is not None else ""
                key = row.instead.partition(",")[0]
                found.setdefault(key, []).append(_Row(row.look_up.where, settles, settled))
    return {key: tuple(rows) for key, rows in found.items()}
