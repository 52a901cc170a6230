"""wattproof check: plans in, findings out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.choices import ReportFormat, Threshold
from wattproof.cli.options import InputName, Working

if TYPE_CHECKING:
    from wattproof.engine import Result
    from wattproof.packs import RuleSet


def check(
    plans: Annotated[
        list[str],
        typer.Argument(
            metavar="PLAN",
            help="Plans to check: files, folders with plans in them, or - for standard input.",
            show_default=False,
        ),
    ],
    format: Annotated[
        ReportFormat, typer.Option(help="text for people, json and sarif for programs.")
    ] = ReportFormat.text,
    level: Annotated[
        Threshold, typer.Option(help="Findings of this level or a graver one give exit status 1.")
    ] = Threshold.warning,
    working: Working = False,
    option: Annotated[
        list[str] | None,
        typer.Option(
            metavar="RULE.OPTION=NUMBER",
            help="Set an option of a rule; may be repeated. `wattproof basis RULE` lists them.",
            show_default=False,
        ),
    ] = None,
    name: InputName = None,
) -> None:
    """Check plans, and show what is wrong, why, and what to change.

    Exit status: 0 nothing found, 1 findings, 2 a plan or the call is unusable, 3 a rule failed.
    """
    import datetime

    from wattproof.cli.errors import CallUnusable
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plans import STANDARD_INPUT, find_plans
    from wattproof.cli.settings import read_settings
    from wattproof.engine import check_file
    from wattproof.reports.verdict import exit_status

    if name is not None and STANDARD_INPUT not in plans:
        raise CallUnusable("--name goes with a plan on standard input: write - for PLAN")
    rule_set = installed_rules()
    settings = read_settings(option or (), rule_set)
    today = datetime.date.today()
    results = [
        check_file(
            path,
            rule_set,
            today=today,
            shown_as=(name or "standard-input") if path == STANDARD_INPUT else None,
            options=settings,
        )
        for path in find_plans(plans)
    ]
    status = exit_status(results, level.value)
    _report(results, rule_set, status, format, working)
    raise typer.Exit(status)


def _report(
    results: list[Result], rule_set: RuleSet, status: int, format: ReportFormat, working: bool
) -> None:
    from wattproof.cli.output import write_document, write_text

    if format is ReportFormat.json:
        from wattproof.reports import json_report

        write_document(json_report.render(results, status))
    elif format is ReportFormat.sarif:
        from wattproof.reports import sarif

        write_document(sarif.render(results, rule_set, status))
    else:
        from wattproof.reports import text

        write_text(text.render(results, working=working))
