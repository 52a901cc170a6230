"""wattproof report: one page to look at and to print, or Markdown for a pull request."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.choices import PageFormat, PrintedSheets
from wattproof.cli.options import (
    InputName,
    LeastLevel,
    OutputBeside,
    RuleOptions,
    SettingsName,
    SomePlans,
)
from wattproof.cli.output import STANDARD_OUTPUT

if TYPE_CHECKING:
    from wattproof.cli.for_page import ForPage


def report(
    plans: SomePlans,
    format: Annotated[
        PageFormat,
        typer.Option(help="html: a page of one plan; markdown: for comments and build pages."),
    ] = PageFormat.html,
    print_: Annotated[
        PrintedSheets | None,
        typer.Option(
            "--print",
            help="A page laid out for paper. bench: verdict, findings, cut list, diagram, order of "
            "connection and labels; full: all of it, opened.",
            show_default=False,
        ),
    ] = None,
    layouts: Annotated[
        bool,
        typer.Option(
            "--layouts",
            help="Compare every way to join the modules, also where the plan has chosen one.",
        ),
    ] = False,
    output: OutputBeside = None,
    level: LeastLevel = None,
    option: RuleOptions = None,
    settings: SettingsName = None,
    name: InputName = None,
) -> None:
    """Write what a check found as a page, with diagram, curves, schedules and order of work.

    The page needs nothing around it and fetches nothing. Exit status, as of `wattproof check`: 0
    nothing found, 1 findings, 2 a plan, its settings or the call is unusable, 3 a rule failed.
    """
    from wattproof.cli.errors import CallUnusable
    from wattproof.cli.for_page import ForPage
    from wattproof.cli.output import refuse_overwriting, save_document, say_where
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.cli.plans import find_plans, refuse_idle_name, shown_name
    from wattproof.cli.progress import Progress
    from wattproof.reports.findings.verdict import exit_status

    refuse_idle_name(name, plans)
    rule_set = installed_rules()
    plan_settings = PlanSettings(rule_set, settings, option or (), level)
    paths = find_plans(plans, plan_settings.excludes)
    if format is PageFormat.html and len(paths) != 1:
        raise CallUnusable(
            f"a page shows one plan, and these are {len(paths)}: name one, or write "
            "--format markdown"
        )
    if print_ is not None and format is not PageFormat.html:
        raise CallUnusable("--print lays out a page for paper: write --format html with it")
    target = _target(paths, format, print_) if output is None else output
    for path in paths:
        refuse_overwriting(path, target, "report")
    checked = []
    with Progress("checking", len(paths)) as progress:
        for path in paths:
            shown_as = shown_name(path, name)
            progress.step(shown_as)
            checked.append(ForPage(path, shown_as, rule_set, plan_settings, compare=layouts))
    status = exit_status([each.checked.result for each in checked])
    save_document(target, _rendered(checked, format, print_))
    if output is None:
        say_where(target)
    raise typer.Exit(status)


def _target(paths: list[str], format: PageFormat, printed: PrintedSheets | None) -> str:
    """Where it goes if it was sent nowhere: a page beside its plan, Markdown to standard output."""
    from wattproof.cli.output import beside

    if format is not PageFormat.html:
        return STANDARD_OUTPUT
    return beside(paths[0], ".html" if printed is None else f"-{printed.value}.html")


def _rendered(checked: list[ForPage], format: PageFormat, printed: PrintedSheets | None) -> str:
    if format is PageFormat.html:
        from wattproof.reports import page

        [one] = checked
        link = "" if printed is PrintedSheets.bench else "#finding-"
        return page.render(one.page(link=link), "" if printed is None else printed.value)
    from wattproof.reports.page import markdown_report

    return markdown_report.render(
        [markdown_report.with_tables(*each.checked, each.layouts) for each in checked]
    )
