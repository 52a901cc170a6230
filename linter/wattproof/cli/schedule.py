"""wattproof schedule: what a builder buys, cuts and labels from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.choices import LISTED_AS_TEXT, ScheduleFormat, ScheduleTable
from wattproof.cli.options import InputName, OnePlan, OutputName
from wattproof.cli.output import STANDARD_OUTPUT
from wattproof.reports.schedules.formats import writer_of

if TYPE_CHECKING:
    from wattproof.study import Study


def schedule(
    plan: OnePlan,
    format: Annotated[
        ScheduleFormat,
        typer.Option(help="text for people, csv for spreadsheets, markdown for pages."),
    ] = LISTED_AS_TEXT,
    table: Annotated[
        ScheduleTable | None,
        typer.Option(help="One schedule only; without it, all.", show_default=False),
    ] = None,
    output: OutputName = STANDARD_OUTPUT,
    name: InputName = None,
) -> None:
    """List conductors, devices, parts and labels of a plan.

    It lists what the plan declares and what follows from it. Check the plan before you buy by it.

    Exit status: 0, or 2 where the plan or the call is unusable.
    """
    from wattproof.cli.one_plan import end_unusable, load_study, write_danger
    from wattproof.cli.output import (
        refuse_overwriting,
        save_document,
        write_text,
    )
    from wattproof.cli.plans import refuse_idle_name, shown_name
    from wattproof.source import PlanUnusable

    refuse_idle_name(name, [plan])
    refuse_overwriting(plan, output, "schedule")
    file = shown_name(plan, name)
    is_text = format is LISTED_AS_TEXT
    try:
        study = load_study(plan, file)
    except PlanUnusable as unusable:
        end_unusable(file, unusable, shown=is_text or output != STANDARD_OUTPUT)
    on_screen = is_text and output == STANDARD_OUTPUT
    if on_screen:
        study = write_danger(study, file)
    made = _rendered(study, file, format.value, table)
    if on_screen:
        write_text(made)
    else:
        save_document(output, made)


def _rendered(study: Study, file: str, format: str, table: ScheduleTable | None) -> str:
    from wattproof.reports.schedules.listing import Listing
    from wattproof.reports.schedules.tables import tables_of
    from wattproof.views.schedules import schedules_of

    tables = tables_of(schedules_of(study), table)
    title = str(study.plan.title or "")
    return writer_of(format)(Listing(file, title, study.codes.id, study.codes.title, tables))
