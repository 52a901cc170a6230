"""wattproof choose: values for what a plan leaves open."""

from __future__ import annotations

from typing import Annotated

import typer

from wattproof.cli.errors import CallUnusable
from wattproof.cli.options import InputName, OnePlan, RuleOptions, SettingsName, Working
from wattproof.cli.writing import CopyName, Write


def choose(
    plan: OnePlan,
    layout: Annotated[
        str | None,
        typer.Option(
            metavar="LAYOUT",
            help="The arrangement of modules that is open, as 2s2p, or a whole name as `layouts` "
            "prints it; without it, the first of these.",
            show_default=False,
        ),
    ] = None,
    write: Write = False,
    output: CopyName = None,
    working: Working = False,
    option: RuleOptions = None,
    settings: SettingsName = None,
    name: InputName = None,
) -> None:
    """Choose the smallest values for what a plan leaves open, so that no rule finds a fault.

    Layout, sizes, ratings and styles, standard ones of the plan's body of rules, each with its
    reason; what cannot be met is told. Shown as a difference; --write writes it.

    Exit status: 0 nothing left, 1 findings left, 2 a plan or the call is unusable, 3 a rule failed.
    """
    import datetime

    from wattproof.choosing.choice import CannotChoose
    from wattproof.choosing.choose import chosen
    from wattproof.cli.one_plan import end_unusable
    from wattproof.cli.output import paint_of_screen, screen_columns, write_text
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.cli.plans import refuse_idle_name, shown_name
    from wattproof.cli.writing import read_for_writing, write_plan
    from wattproof.reports.choosing import text as choosing_text
    from wattproof.reports.findings.verdict import exit_status
    from wattproof.reports.writing.columns import on_screen
    from wattproof.source import PlanUnusable

    refuse_idle_name(name, [plan])
    if layout is not None and " " not in layout.strip():
        _refuse_no_layout(layout)
    file = shown_name(plan, name)
    rule_set = installed_rules()
    try:
        own = PlanSettings(rule_set, settings, option or (), None).of(file)
        held = read_for_writing(plan, file, write=write, copy=output)
        made = chosen(
            plan,
            held.text,
            rule_set,
            today=datetime.date.today(),
            shown_as=file,
            settings=own,
            layout=layout or "",
        )
    except PlanUnusable as unusable:
        end_unusable(file, unusable, shown=True)
    except CannotChoose as reason:
        raise CallUnusable(str(reason)) from None
    if made.before.problems:
        end_unusable(file, PlanUnusable(list(made.before.problems)), shown=True)
    changed = made.text != held.text
    parts = "parts:" in held.text
    written = write_plan(held, made.text, parts=parts, write=write and changed, copy=output)
    with on_screen(screen_columns()):
        paint = paint_of_screen()
        write_text(choosing_text.render(made, file, written, working=working, paint=paint))
    raise typer.Exit(exit_status([made.after]))


def _refuse_no_layout(text: str) -> None:
    from wattproof.plan.layouts import read_layout
    from wattproof.quantities import Mistake
    from wattproof.source import Place, Text

    try:
        read_layout(Text.at(text, Place("the call", 1, 1, 1, 1)))
    except Mistake as mistake:
        raise CallUnusable(f"--layout: {mistake.message}; {mistake.instead}") from None
