"""The one plan of a call: computed, or told to be unusable."""

from __future__ import annotations

from typing import TYPE_CHECKING, NoReturn

import typer

if TYPE_CHECKING:
    from wattproof.source import PlanUnusable
    from wattproof.study import Study


def load_study(plan: str, file: str) -> Study:
    """The study of a plan. file: what messages call it. Raises PlanUnusable."""
    from wattproof.loading import load_study as load

    return load(plan, shown_as=file)


def end_unusable(file: str, unusable: PlanUnusable, *, shown: bool) -> NoReturn:
    """Tell everything that makes a plan unusable, and end with status 2.

    shown: on standard output, as a report; else a line each on the error output.
    """
    from wattproof.cli.output import write_error, write_text
    from wattproof.reports.figures import text as figures_text

    problems = sorted(set(unusable.problems))
    if shown:
        write_text(figures_text.render_unusable(file, problems))
    else:
        for problem in problems:
            write_error(f"{problem.place}: {problem.message}")
    raise typer.Exit(2)
