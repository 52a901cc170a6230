"""wattproof questions: what to look up, as a sheet to take to the installation."""

from __future__ import annotations

from typing import Annotated

import typer

from wattproof.cli.choices import SheetFormat
from wattproof.cli.options import InputName, OnePlan, SettingsName


def questions(
    plan: OnePlan,
    format: Annotated[
        SheetFormat, typer.Option(help="text, or Markdown with boxes to tick.")
    ] = SheetFormat.text,
    settings: SettingsName = None,
    name: InputName = None,
) -> None:
    """Print what has to be looked up, where it is printed, and what hangs on it.

    Answers are written into the plan; this takes none that is not there.

    Exit status: 0, 2 where the plan or the call is unusable, or 3 where a rule failed.
    """
    from wattproof.cli.examining import examined
    from wattproof.cli.one_plan import end_unusable
    from wattproof.cli.output import write_error, write_text
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.cli.plans import refuse_idle_name, shown_name
    from wattproof.reports.questions import markdown, text
    from wattproof.source import PlanUnusable

    refuse_idle_name(name, [plan])
    file = shown_name(plan, name)
    rule_set = installed_rules()
    own = PlanSettings(rule_set, settings, (), None)
    result = examined(plan, rule_set, own, shown_as=file, try_remedies=False).result
    if result.problems:
        end_unusable(file, PlanUnusable(list(result.problems)), shown=True)
    if format is SheetFormat.markdown:
        write_text(markdown.render(result.title, result.questions))
    else:
        write_text(text.render(file, result.title, result.questions))
    if result.failed:
        write_error(f"{file}: a rule failed, so questions may be missing; `wattproof check` tells")
        raise typer.Exit(3)
