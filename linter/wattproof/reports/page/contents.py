"""What a page shows, read off the study and the findings of one plan."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from wattproof.engine import Result
from wattproof.reports.curves import data as curves_data
from wattproof.reports.curves import svg as curves_svg
from wattproof.reports.curves import text as curves_text
from wattproof.reports.curves.data import InputCurves, NotDrawn
from wattproof.reports.findings.telling import as_told
from wattproof.reports.one_line import svg as one_line_svg
from wattproof.reports.page import Page, Published, array_tables, energy_tables, reading_tables
from wattproof.reports.schedules import tables as schedule_tables
from wattproof.views.connection_order import connection_order
from wattproof.views.one_line.view import one_line
from wattproof.views.schedules import schedules_of

if TYPE_CHECKING:
    from wattproof.choosing.layouts import Layouts
    from wattproof.reports.layouts.section import Section
    from wattproof.study import Study


def page_of(
    study: Study | None,
    result: Result,
    sources: Mapping[str, str],
    *,
    link: str = "#finding-",
    layouts: Layouts | None = None,
    published: Published | None = None,
) -> Page:
    """The page of a plan; study is None where the plan could not be computed.

    layouts: every way to join its modules, where the page is to compare them.

    link: where the marks of the diagram lead to; empty where there is nothing to follow them with.

    published: where it is one of many.
    """
    if study is None:
        return Page(result, sources, published=published)
    inputs = [curves_data.read(found) for found in study.curves.curves]
    missing = list(curves_data.not_drawn(study))
    diagram = one_line_svg.render(
        one_line(study, "standard"), as_told(result), link=link, listed=False
    )
    return Page(
        result,
        sources,
        diagram=diagram,
        curves=tuple(curves_svg.pictures(inputs)),
        not_drawn=tuple(_not_drawn(inputs, missing)),
        arrays=tuple(array_tables.tables_of(inputs)),
        energy=tuple(energy_tables.tables_of(study.energy.balances)),
        readings=tuple(reading_tables.tables_of(study.readings)),
        schedules=schedule_tables.tables_of(schedules_of(study), None),
        stages=connection_order(study),
        layouts=_section(layouts),
        published=published,
    )


def _not_drawn(inputs: Sequence[InputCurves], missing: Sequence[NotDrawn]) -> Iterator[str]:
    """Why inputs have no curves, and which shades leave nothing to draw."""
    if missing:
        yield from curves_text.why_not(inputs, missing)
    yield from filter(None, map(curves_text.dark_words, inputs))


def _section(layouts: Layouts | None) -> Section | None:
    if layouts is None:
        return None
    from wattproof.reports.layouts.section import section_of  # of few pages

    return section_of(layouts)
