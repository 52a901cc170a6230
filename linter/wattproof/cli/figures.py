"""wattproof figures: every computed quantity of a plan."""

from __future__ import annotations

from typing import Annotated

import typer

from wattproof.cli.choices import DataFormat
from wattproof.cli.options import InputName, OnePlan, Working


def figures(
    plan: OnePlan,
    format: Annotated[
        DataFormat, typer.Option(help="text for people, json for programs.")
    ] = DataFormat.text,
    working: Working = False,
    name: InputName = None,
) -> None:
    """Show every quantity that is computed of a plan.

    Exit status: 0, or 2 where the plan or the call is unusable.
    """
    from wattproof.cli.one_plan import end_unusable, load_study, write_danger
    from wattproof.cli.output import write_document, write_text
    from wattproof.cli.plans import refuse_idle_name, shown_name
    from wattproof.reports.figures import json as figures_json
    from wattproof.reports.figures import text as figures_text
    from wattproof.source import PlanUnusable
    from wattproof.views.figures import figures_of

    refuse_idle_name(name, [plan])
    file = shown_name(plan, name)
    try:
        study = load_study(plan, file)
    except PlanUnusable as unusable:
        if format is DataFormat.text:
            end_unusable(file, unusable, shown=True)
        problems = sorted(set(unusable.problems))
        write_document(figures_json.render(file, (), problems))
        raise typer.Exit(2) from None
    if format is DataFormat.json:
        write_document(figures_json.render(file, figures_of(study)))
        return
    study = write_danger(study, file)
    title = str(study.plan.title or "")
    code_title = study.codes.title
    write_text(
        figures_text.render(
            file, title, study.codes.id, code_title, figures_of(study), working=working
        )
    )
