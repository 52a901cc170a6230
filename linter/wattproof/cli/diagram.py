"""wattproof diagram: the plan as a one-line diagram, with marks where a check finds something."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, cast

import typer

from wattproof.cli.choices import AT_STANDARD, OperatingState
from wattproof.cli.options import InputName, OnePlan, OutputBeside

if TYPE_CHECKING:
    from wattproof.kinds import State


def diagram(
    plan: OnePlan,
    output: OutputBeside = None,
    state: Annotated[
        OperatingState, typer.Option(help="The operating state whose figures it shows.")
    ] = AT_STANDARD,
    findings: Annotated[
        bool,
        typer.Option("--findings/--no-findings", help="Check the plan and mark what is found."),
    ] = True,
    name: InputName = None,
) -> None:
    """Draw a plan as a one-line diagram (SVG), from the sources down to the loads.

    It names every part and wire, with ratings, sizes and lengths, the voltages and currents of an
    operating state, and a mark with the level and number of each finding where it stands.

    Exit status: 0, 2 where the plan or the call is unusable, or 3 where a rule failed.
    """
    from wattproof.cli.one_plan import check_study, end_unusable, load_study
    from wattproof.cli.output import (
        beside,
        refuse_overwriting,
        save_document,
        say_where,
        write_error,
    )
    from wattproof.cli.plans import refuse_idle_name, shown_name
    from wattproof.reports.findings.telling import as_told
    from wattproof.reports.one_line import svg as one_line_svg
    from wattproof.source import PlanUnusable
    from wattproof.views.one_line.view import one_line

    refuse_idle_name(name, [plan])
    target = beside(plan, ".svg") if output is None else output
    refuse_overwriting(plan, target, "diagram")
    file = shown_name(plan, name)
    try:
        study, result = load_study(plan, file), None
        if findings:
            study, result = check_study(study, file)
    except PlanUnusable as unusable:
        end_unusable(file, unusable, shown=False)
    view = one_line(study, cast("State", state.value))
    save_document(target, one_line_svg.render(view, as_told(result) if result else None))
    if output is None:
        say_where(target)
    if result is not None and result.failed:
        write_error(
            f"{file}: a rule failed, so marks may be missing; `wattproof check` tells which"
        )
        raise typer.Exit(3)
