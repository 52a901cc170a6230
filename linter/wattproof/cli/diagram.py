"""wattproof diagram: the plan as a one-line diagram, with marks where a check finds something."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.choices import OperatingState
from wattproof.cli.options import InputName, OnePlan, OutputName
from wattproof.cli.output import STANDARD_OUTPUT

if TYPE_CHECKING:
    from wattproof.engine import Result
    from wattproof.study import Study


def diagram(
    plan: OnePlan,
    output: OutputName = STANDARD_OUTPUT,
    state: Annotated[
        OperatingState, typer.Option(help="The operating state whose figures it shows.")
    ] = OperatingState.standard,
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
    from wattproof.circuit import build_circuit
    from wattproof.cli.output import refuse_overwriting, save_document, write_error
    from wattproof.cli.plans import refuse_idle_name, shown_name
    from wattproof.plan import load_plan
    from wattproof.reports import one_line_svg
    from wattproof.reports.telling import as_told
    from wattproof.source import PlanUnusable
    from wattproof.study import Study

    refuse_idle_name(name, [plan])
    refuse_overwriting(plan, output, "diagram")
    file = shown_name(plan, name)
    try:
        study = Study(build_circuit(load_plan(plan, shown_as=file)))
    except PlanUnusable as unusable:
        for problem in sorted(set(unusable.problems)):
            write_error(f"{problem.place}: {problem.message}")
        raise typer.Exit(2) from None
    result = _checked(study, file) if findings else None
    view = study.one_line(state.value)
    save_document(output, one_line_svg.render(view, as_told(result) if result else None))
    if result is not None and result.failed:
        write_error(
            f"{file}: a rule failed, so marks may be missing; `wattproof check` tells which"
        )
        raise typer.Exit(3)


def _checked(study: Study, file: str) -> Result:
    import datetime

    from wattproof.cli.packs import installed_rules
    from wattproof.engine import check

    return check(study, installed_rules(), file=file, today=datetime.date.today())
