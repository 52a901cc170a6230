"""wattproof check: plans in, findings out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, NamedTuple

import typer

from wattproof.cli.choices import ReportFormat
from wattproof.cli.options import (
    InputName,
    LeastLevel,
    RuleOptions,
    SettingsName,
    SomePlans,
    Working,
)

if TYPE_CHECKING:
    import datetime

    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.engine import Result
    from wattproof.packs import RuleSet


def check(
    plans: SomePlans,
    format: Annotated[
        ReportFormat,
        typer.Option(
            help="text and markdown for people, short for editors, the others for programs."
        ),
    ] = ReportFormat.text,
    full: Annotated[
        bool, typer.Option("--full", help="Show numbers, reasons and assumptions as well.")
    ] = False,
    quiet: Annotated[bool, typer.Option("--quiet", help="Show the verdict alone.")] = False,
    among_others: Annotated[
        bool,
        typer.Option("--among-others", help="Pass over files that are named and hold no plan."),
    ] = False,
    baseline: Annotated[
        str | None,
        typer.Option(
            metavar="FILE",
            help="An older check, as --write-baseline kept it: what it found too, no milder, does "
            "not count.",
            show_default=False,
        ),
    ] = None,
    write_baseline: Annotated[
        str | None,
        typer.Option(metavar="FILE", help="Keep what is found for later.", show_default=False),
    ] = None,
    level: LeastLevel = None,
    working: Working = False,
    option: RuleOptions = None,
    settings: SettingsName = None,
    name: InputName = None,
) -> None:
    """Check plans, and show what is wrong, why, and what to change.

    Exit status: 0 nothing found, 1 findings, 2 a plan, its settings or the call is unusable, 3 a
    rule failed.
    """
    import datetime

    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.cli.plans import find_plans, refuse_idle_name, shown_name
    from wattproof.cli.progress import Progress
    from wattproof.reports.findings.verdict import exit_status

    refuse_idle_name(name, plans)
    rule_set = installed_rules()
    today = datetime.date.today()
    plan_settings = PlanSettings(rule_set, settings, option or (), level)
    paths = find_plans(plans, plan_settings.excludes, others_too=among_others)
    results = []
    with Progress("checking", len(paths)) as progress:
        for path in paths:
            shown_as = shown_name(path, name)
            progress.step(shown_as)
            results.append(_checked(path, shown_as, rule_set, plan_settings, today))
    if baseline is not None:
        results = _since(results, baseline)
    if write_baseline is not None:
        _keep(results, write_baseline)
    status = exit_status(results)
    _report(results, rule_set, status, format, _Amount(full or working, working, quiet))
    raise typer.Exit(status)


def _since(results: list[Result], file: str) -> list[Result]:
    """The results beside what an older check found in the same plans."""
    from wattproof.cli.baseline import read_baseline
    from wattproof.comparison import with_known

    older = read_baseline(file)
    return [with_known(result, older.of(result.file), file) for result in results]


def _keep(results: list[Result], file: str) -> None:
    """Keep what was found. Raises CallUnusable where a plan could not be checked in full."""
    from wattproof.cli.baseline import write_baseline

    write_baseline(file, results)


def _checked(
    path: str, shown_as: str, rule_set: RuleSet, settings: PlanSettings, today: datetime.date
) -> Result:
    from wattproof.engine import check_file, not_checked
    from wattproof.source import PlanUnusable

    try:
        own = settings.of(shown_as)
    except PlanUnusable as unusable:
        return not_checked(shown_as, rule_set, unusable)
    return check_file(path, rule_set, today=today, shown_as=shown_as, settings=own)


class _Amount(NamedTuple):
    """How much of it a text tells."""

    full: bool
    working: bool
    quiet: bool


def _report(
    results: list[Result], rule_set: RuleSet, status: int, format: ReportFormat, amount: _Amount
) -> None:
    from wattproof.cli.output import write_document, write_text

    if format is ReportFormat.text:
        _tell(results, amount)
    elif format is ReportFormat.json:
        from wattproof.reports.findings import json_report

        write_document(json_report.render(results, status))
    elif format is ReportFormat.sarif:
        from wattproof.reports.findings import sarif

        write_document(sarif.render(results, rule_set, status))
    elif format is ReportFormat.junit:
        from wattproof.reports.findings import junit

        write_document(junit.render(results))
    elif format is ReportFormat.markdown:
        from wattproof.reports.findings import markdown

        write_document(markdown.render(results))
    else:
        from wattproof.reports.findings import lines

        made = lines.short if format is ReportFormat.short else lines.workflow_commands
        write_text(made(results))


def _tell(results: list[Result], amount: _Amount) -> None:
    """The text for people, as wide as their screen, in colour where it has any."""
    from wattproof.cli.output import paint_of_screen, screen_columns, write_text
    from wattproof.reports.findings import brief
    from wattproof.reports.writing.columns import on_screen

    paint = paint_of_screen()
    with on_screen(screen_columns()):
        if amount.quiet:
            made = brief.quiet(results, paint=paint)
        elif amount.full:
            from wattproof.reports.findings import text

            made = text.render(results, working=amount.working, paint=paint)
        else:
            made = brief.render(results, paint=paint)
    write_text(made)
