"""The one plan of a call: computed, or told to be unusable."""

from __future__ import annotations

from typing import TYPE_CHECKING, NoReturn

import typer

if TYPE_CHECKING:
    from wattproof.engine import Result
    from wattproof.source import PlanUnusable
    from wattproof.study import Study


def load_study(plan: str, file: str) -> Study:
    """The study of a plan. file: what messages call it. Raises PlanUnusable."""
    from wattproof.loading import load_study as load

    return load(plan, shown_as=file)


def write_danger(study: Study, file: str) -> Study:
    """Say first what must be mended before anything is connected; nothing where nothing must.

    No calm number stands alone before a danger that the same plan has. Returns the study with what
    was computed for it.
    """
    from wattproof.cli.output import paint_of_screen, write_text
    from wattproof.reports.findings.head import danger_lines
    from wattproof.source import PlanUnusable

    try:
        study, result = check_study(study, file)
    except PlanUnusable:
        return study  # the command itself does not need them; `check` tells what is wrong there
    lines = list(danger_lines(result, paint_of_screen()))
    if lines:
        write_text("\n".join([*lines, "", ""]))
    return study


def check_study(study: Study, file: str) -> tuple[Study, Result]:
    """What is found under the settings of the project, by the numbers of `wattproof check`.

    The study that comes back is of the same plan, with what was computed for it. Raises
    PlanUnusable for settings that cannot be used.
    """
    import datetime

    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.engine import check

    rules = installed_rules()
    settings = PlanSettings(rules, None, (), None).of(file)
    today = datetime.date.today()
    done = check(study, rules, file=file, today=today, settings=settings, try_remedies=False)
    return done.study or study, done.result


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
