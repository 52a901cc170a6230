"""What is assumed where a plan is silent, from the tables in `wattproof.study.assumptions`."""

from __future__ import annotations

from collections.abc import Mapping
from types import ModuleType
from typing import Any

from wattproof.study.assumptions import (
    Assumed,
    Silence,
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
from wattproof.study.assumptions.rows import Times
from wattproof_docs.markdown import plain, table

SECTIONS = {
    "What every plan needs": labels,
    "Climate": climate,
    "Modules": modules,
    "Cables and plugs": cables,
    "Fuses, breakers and switches": devices,
    "Batteries": batteries,
    "Energy": energy,
    "Controllers, inverters and chargers": units,
    "Readings": readings,
}


def figures_of(section: ModuleType) -> list[Assumed[Any]]:
    """The figures of a table, in its order."""
    return [each for each in vars(section).values() if isinstance(each, Assumed)]


def when_silent(key: str) -> str:
    """What is assumed for a key (`Model.key`) of the plan language; empty where nothing is."""
    return "; ".join(
        f"{each.words}, {_shown(each)}"
        for section in SECTIONS.values()
        for each in figures_of(section)
        if each.settles == key
    )


def page() -> str:
    """All assumed figures."""
    text = ""
    for title, section in SECTIONS.items():
        rows = []
        for each in figures_of(section):
            kind, harsh = _ends(each, section)
            rows.append((plain(each.words), _shown(each), kind, harsh, each.source))
        head = ("What", "Taken as", "At its kindest", "At its harshest", "Source")
        text += f"## {title}\n\n" + table(head, rows)
    return text


def _ends(figure: Assumed[Any], section: ModuleType) -> tuple[str, str]:
    """The kindest and the harshest that are still plausible; empty where one figure serves."""
    for each in vars(section).values():
        if isinstance(each, Silence) and each.usual is figure:
            return _end(each.kind), _end(each.harsh)
    return "", ""


def _end(figure: Assumed[Any] | Times | None) -> str:
    if figure is None:
        return ""
    if isinstance(figure, Times):
        if isinstance(figure.factor, Mapping):
            return ", ".join(f"{kind} × {each:g}" for kind, each in figure.factor.items())
        return f"× {figure.factor:g}"
    return _shown(figure)


def _shown(figure: Assumed[Any]) -> str:
    value, unit = figure.value, figure.unit
    if isinstance(value, Mapping):
        return ", ".join(f"{kind} {_number(each, unit)}" for kind, each in value.items())
    if isinstance(value, tuple):
        return ", ".join(value)
    return _number(value, unit)


def _number(value: Any, unit: str) -> str:
    if not isinstance(value, float | int):
        return str(value)
    scaled = value * 100 if unit.startswith("%") else value
    return f"{scaled:.4g} {unit}".strip().replace("-", "\u2212")
