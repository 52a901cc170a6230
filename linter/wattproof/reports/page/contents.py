"""What a page shows, read off the study and the findings of one plan."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from wattproof.engine import Result
from wattproof.reports import (
    array_tables,
    curves_data,
    curves_svg,
    curves_text,
    energy_tables,
    one_line_svg,
    reading_tables,
    schedule_tables,
)
from wattproof.reports.curves_data import InputCurves, NotDrawn
from wattproof.reports.page import Page
from wattproof.reports.telling import as_told

if TYPE_CHECKING:
    from wattproof.study import Study


def page_of(study: Study | None, result: Result, sources: Mapping[str, str]) -> Page:
    """The page of a plan; study is None where the plan could not be computed."""
    if study is None:
        return Page(result, sources)
    inputs = [curves_data.read(found) for found in study.curves]
    missing = list(curves_data.not_drawn(study))
    diagram = one_line_svg.render(
        study.one_line("standard"), as_told(result), link="#finding-", listed=False
    )
    return Page(
        result,
        sources,
        diagram=diagram,
        curves=tuple(curves_svg.pictures(inputs)),
        not_drawn=tuple(_not_drawn(inputs, missing)),
        arrays=tuple(array_tables.tables_of(inputs)),
        energy=tuple(energy_tables.tables_of(study.energy)),
        readings=tuple(reading_tables.tables_of(study.readings)),
        schedules=schedule_tables.tables_of(study.schedules, None),
        stages=study.connection_order(),
    )


def _not_drawn(inputs: Sequence[InputCurves], missing: Sequence[NotDrawn]) -> Iterator[str]:
    """Why inputs have no curves, and which shades leave nothing to draw."""
    if missing:
        yield from curves_text.why_not(inputs, missing)
    yield from filter(None, map(curves_text.dark_words, inputs))
