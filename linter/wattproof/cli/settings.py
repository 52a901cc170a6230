"""wattproof settings: what holds for the checks of a plan, and where it was set."""

from __future__ import annotations

import os
from typing import Annotated

import typer

from wattproof.cli.choices import DataFormat
from wattproof.cli.options import LeastLevel, RuleOptions, SettingsName


def settings(
    plan: Annotated[
        str,
        typer.Argument(
            metavar="[PLAN]",
            help="A plan, or a folder with plans; unless given, the current folder.",
            show_default=False,
        ),
    ] = ".",
    format: Annotated[
        DataFormat, typer.Option(help="text for people, json for programs.")
    ] = DataFormat.text,
    whole: Annotated[bool, typer.Option("--all", help="List what nothing is set for too.")] = False,
    level: LeastLevel = None,
    option: RuleOptions = None,
    settings: SettingsName = None,
) -> None:
    """Show what is set for the checks of a plan, and where: rules that are off, levels, options.

    Exit status: 0, 2 where the settings or the call are unusable, 3 where a pack of rules cannot
    be used.
    """
    from wattproof.cli.errors import CallUnusable
    from wattproof.cli.output import write_document, write_text
    from wattproof.cli.packs import installed_rules, report_failures
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.reports.settings import json as settings_json
    from wattproof.reports.settings import text as settings_text
    from wattproof.settings.overview import overview
    from wattproof.source import PlanUnusable

    if not os.path.exists(plan):
        raise CallUnusable(f"there is no plan or folder {plan}")
    rule_set = installed_rules()
    plan_settings = PlanSettings(rule_set, settings, option or (), level)
    at = os.path.join(plan, "") if os.path.isdir(plan) else plan
    try:
        own = plan_settings.of(at)
    except PlanUnusable as unusable:
        if format is DataFormat.json:
            write_document(settings_json.render_unusable(plan, unusable.problems))
        else:
            write_text(settings_text.render_unusable(plan, unusable.problems))
        raise typer.Exit(2) from None
    held = list(overview(rule_set, own))
    if format is DataFormat.json:
        listed = [each for each in held if whole or each.setting is not None]
        write_document(settings_json.render(plan, own, listed))
    else:
        looked = plan_settings.search(at)
        write_text(settings_text.render(plan, own, looked, held, whole=whole))
    if rule_set.failures:
        report_failures(rule_set)
        raise typer.Exit(3)
