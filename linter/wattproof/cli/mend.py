"""wattproof mend: the remedies that were tried, written into the plan."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.options import InputName, OnePlan, RuleOptions, SettingsName
from wattproof.cli.writing import CopyName, Write

if TYPE_CHECKING:
    from wattproof.engine import Result
    from wattproof.finding import Identity


def mend(
    plan: OnePlan,
    findings: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[FINDING]...",
            help="Findings to mend: numbers as `check` shows them, rules, or RULE:COMPONENT; "
            "without any, all.",
            show_default=False,
        ),
    ] = None,
    write: Write = False,
    output: CopyName = None,
    option: RuleOptions = None,
    settings: SettingsName = None,
    name: InputName = None,
) -> None:
    """Write remedies into a plan that clear their findings and bring nothing as grave.

    Shows the change as a difference, and what is left after it; --write writes it. Labels and
    ratings that are written stand for parts that have them: change the installation to match.

    Exit status: 0 nothing left, 1 findings left, 2 a plan or the call is unusable, 3 a rule failed.
    """
    import datetime

    from wattproof.cli.one_plan import end_unusable
    from wattproof.cli.output import paint_of_screen, screen_columns, write_text
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.cli.plans import refuse_idle_name, shown_name
    from wattproof.cli.writing import read_for_writing, write_plan
    from wattproof.mending import mended
    from wattproof.reports.findings.verdict import exit_status
    from wattproof.reports.mending import text as mending_text
    from wattproof.reports.writing.columns import on_screen
    from wattproof.source import PlanUnusable

    refuse_idle_name(name, [plan])
    file = shown_name(plan, name)
    rule_set = installed_rules()
    try:
        own = PlanSettings(rule_set, settings, option or (), None).of(file)
        held = read_for_writing(plan, file, write=write, copy=output)
    except PlanUnusable as unusable:
        end_unusable(file, unusable, shown=True)
    made = mended(
        plan,
        held.text,
        rule_set,
        today=datetime.date.today(),
        shown_as=file,
        settings=own,
        pick=(lambda result: picked(result, findings)) if findings else None,
    )
    if made.before.problems:
        end_unusable(file, PlanUnusable(list(made.before.problems)), shown=True)
    parts = "parts:" in held.text
    written = write_plan(
        held, made.text, parts=parts, write=write and bool(made.mends), copy=output
    )
    with on_screen(screen_columns()):
        write_text(mending_text.render(made, file, written, paint_of_screen()))
    raise typer.Exit(exit_status([made.after]))


def picked(result: Result, names: list[str]) -> set[Identity]:
    """The findings that are named. Raises CallUnusable for one that the plan does not have."""
    from wattproof.cli.errors import CallUnusable
    from wattproof.reports.findings.telling import as_told

    told = as_told(result)
    found: set[Identity] = set()
    for name in names:
        rule, _, component = name.partition(":")
        if name.isdecimal() and 1 <= int(name[:6]) <= len(told):
            chosen = [told[int(name) - 1]]
        else:
            chosen = [
                f for f in told if f.rule == rule and (not component or component in f.all_subjects)
            ]
        chosen = [f for f in chosen if f.acceptance is None]
        if not chosen:
            raise CallUnusable(
                f"{result.file} has no finding `{name}` to mend: give its number or its rule as "
                "`wattproof check` shows them"
            )
        ids = (i for f in chosen for i in f.identities)
        found |= {i for i in ids if not component or component in i[1]}
    return found
