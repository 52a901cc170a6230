"""What a page shows, read off the study and the findings of one plan."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from wattproof.engine import Result
from wattproof.reports import curves_data, curves_svg, one_line_svg, schedule_tables
from wattproof.reports.page import Page
from wattproof.reports.telling import as_told

if TYPE_CHECKING:
    from wattproof.study import Study


def page_of(study: Study | None, result: Result, sources: Mapping[str, str]) -> Page:
    """The page of a plan; study is None where the plan could not be computed."""
    if study is None:
        return Page(result, sources)
    inputs = [curves_data.read(found) for found in study.curves]
    diagram = one_line_svg.render(
        study.one_line("standard"), as_told(result), link="#finding-", listed=False
    )
    return Page(
        result,
        sources,
        diagram=diagram,
        curves=curves_svg.render("", inputs) if inputs else "",
        stages=study.connection_order(),
        tables=schedule_tables.tables_of(study.schedules, None),
    )
