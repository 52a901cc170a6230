"""wattproof curve: current and power against voltage, at the solar input of each controller."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Annotated

import typer

from wattproof.cli.options import InputName, OnePlan
from wattproof.cli.output import STANDARD_OUTPUT, save_document


def curve(
    plan: OnePlan,
    csv: Annotated[
        str | None,
        typer.Option(
            metavar="FILE",
            help="Save the curves as rows of numbers; - for standard output.",
            show_default=False,
        ),
    ] = None,
    svg: Annotated[
        str | None,
        typer.Option(
            metavar="FILE",
            help="Save the curves as a picture; - for standard output.",
            show_default=False,
        ),
    ] = None,
    name: InputName = None,
) -> None:
    """Show what each array gives its controller, and where the controller works.

    In full sun: at standard test conditions, on the coldest morning and at the hottest noon; and
    under each case of shade of the plan.

    Exit status: 0, or 2 where the plan or the call is unusable or no curve can be drawn.
    """
    from wattproof.cli.one_plan import end_unusable, load_study, write_danger
    from wattproof.cli.output import write_error, write_text
    from wattproof.cli.plans import refuse_idle_name, shown_name
    from wattproof.reports.curves import csv as curves_csv
    from wattproof.reports.curves import data as curves_data
    from wattproof.reports.curves import svg as curves_svg
    from wattproof.reports.curves import text as curves_text
    from wattproof.source import PlanUnusable

    refuse_idle_name(name, [plan])
    _refuse_clashes(plan, csv, svg)
    table_shown = STANDARD_OUTPUT not in (csv, svg)
    file = shown_name(plan, name)
    try:
        study = load_study(plan, file)
    except PlanUnusable as unusable:
        end_unusable(file, unusable, shown=table_shown)
    if table_shown:
        study = write_danger(study, file)
    title = str(study.plan.title or "")
    inputs = [curves_data.read(found) for found in study.curves.curves]
    missing = list(curves_data.not_drawn(study))
    saved = []
    if inputs:
        saved += _written(csv, lambda: curves_csv.render(inputs))
        saved += _written(svg, lambda: curves_svg.render(title, inputs))
    if table_shown:
        write_text(curves_text.render(file, title, inputs, missing, saved))
    else:
        for reason in curves_text.why_not(inputs, missing):
            write_error(f"{file}: {reason}")
    if not inputs:
        raise typer.Exit(2)


def _refuse_clashes(plan: str, *targets: str | None) -> None:
    """No file is written over the plan, and no two into one."""
    from wattproof.cli.errors import CallUnusable
    from wattproof.cli.output import refuse_overwriting

    named = [t for t in targets if t is not None]
    if len({_whole(t) for t in named}) < len(named):
        raise CallUnusable("--csv and --svg cannot go to the same place")
    for target in named:
        refuse_overwriting(plan, target, "curves")


def _whole(path: str) -> str:
    return path if path == STANDARD_OUTPUT else os.path.realpath(path)


def _written(target: str | None, render: Callable[[], str]) -> list[str]:
    """Write a document where it was asked for. Returns the file, if one was saved."""
    if target is None:
        return []
    save_document(target, render())
    return [] if target == STANDARD_OUTPUT else [target]
