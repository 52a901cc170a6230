"""wattproof check: plans in, findings out."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

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
        ReportFormat, typer.Option(help="text for people, json and sarif for programs.")
    ] = ReportFormat.text,
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
    paths = find_plans(plans)
    results = []
    with Progress("checking", len(paths)) as progress:
        for path in paths:
            shown_as = shown_name(path, name)
            progress.step(shown_as)
            results.append(_checked(path, shown_as, rule_set, plan_settings, today))
    status = exit_status(results)
    _report(results, rule_set, status, format, working)
    raise typer.Exit(status)


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


def _report(
    results: list[Result], rule_set: RuleSet, status: int, format: ReportFormat, working: bool
) -> None:
    from wattproof.cli.output import write_document, write_text

    if format is ReportFormat.json:
        from wattproof.reports.findings import json_report

        write_document(json_report.render(results, status))
    elif format is ReportFormat.sarif:
        from wattproof.reports.findings import sarif

        write_document(sarif.render(results, rule_set, status))
    else:
        from wattproof.reports.findings import text

        write_text(text.render(results, working=working))
