"""The section of a page on layouts: the same texts and table, and small curves."""

from __future__ import annotations

from typing import NamedTuple

from wattproof.choosing.closing import closing
from wattproof.choosing.layouts import Layouts
from wattproof.reports.layouts import small_curves, told
from wattproof.reports.writing.tables import Table


class Detail(NamedTuple):
    """One layout, folded away. figures: label and text of each line."""

    name: str
    outcome: str
    figures: tuple[tuple[str, str], ...]


class Section(NamedTuple):
    """What a page shows of layouts. curves: a picture; empty where there is nothing to draw."""

    about: str
    closing: str
    basis: str
    table: Table
    each: tuple[Detail, ...]
    curves: str


def section_of(layouts: Layouts) -> Section:
    """All of it."""
    return Section(
        f"{told.kinds(layouts)}: {told.summary(layouts)}",
        closing(layouts),
        " ".join(
            filter(None, (told.basis(layouts), told.shade_basis(layouts), told.taken(layouts)))
        ),
        told.table_of(layouts),
        tuple(
            Detail(each.name, told.outcome(each), tuple(told.figures(each)))
            for each in layouts.tried
        ),
        small_curves.render(layouts),
    )
