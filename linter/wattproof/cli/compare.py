"""wattproof compare: what a change of a plan changes in what is found and computed."""

from __future__ import annotations

from contextlib import ExitStack
from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.choices import DocumentFormat
from wattproof.cli.options import LeastLevel, RuleOptions, SettingsName

if TYPE_CHECKING:
    pass


def compare(
    plans: Annotated[
        list[str],
        typer.Argument(
            metavar="OLD NEW",
            help="Two plans; or one, with --since.",
            show_default=False,
        ),
    ],
    since: Annotated[
        str | None,
        typer.Option(
            metavar="REVISION",
            help="Compare a plan with what it was in this revision of its git repository, with "
            "the parts and settings of that time.",
            show_default=False,
        ),
    ] = None,
    format: Annotated[
        DocumentFormat,
        typer.Option(help="text for people, markdown for a comment on a change, json."),
    ] = DocumentFormat.text,
    level: LeastLevel = None,
    option: RuleOptions = None,
    settings: SettingsName = None,
) -> None:
    """Show which findings come, go, grow worse or better, and which figures move by over 1 %.

    Exit status: 0 nothing new or worse at or above the level, 1 something is, 2 a plan, its
    settings or the call is unusable, 3 a rule failed.
    """
    from wattproof.cli.errors import CallUnusable
    from wattproof.cli.examining import examined
    from wattproof.cli.output import write_document, write_text
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.cli.revision import plan_of_revision
    from wattproof.comparison import compare_checks
    from wattproof.reports.comparing import json as comparing_json
    from wattproof.reports.comparing import markdown as comparing_markdown
    from wattproof.reports.comparing import text as comparing_text
    from wattproof.reports.findings.verdict import did_fail, exit_status

    if len(plans) != (2 if since is None else 1):
        raise CallUnusable("name two plans, OLD and NEW; or one plan with --since REVISION")
    rule_set = installed_rules()
    plan_settings = PlanSettings(rule_set, settings, option or (), level)
    with ExitStack() as kept:
        if since is None:
            old_path, new_path = plans
            old_name = old_path
        else:
            [new_path] = plans
            old_path = kept.enter_context(plan_of_revision(new_path, since))
            old_name = f"{since}:{new_path}"
        old, new = (
            examined(path, rule_set, plan_settings, shown_as=path, try_remedies=False)
            for path in (old_path, new_path)
        )
        made = compare_checks(old_name, old, new)
    if format is DocumentFormat.json:
        write_document(comparing_json.render(made))
    elif format is DocumentFormat.markdown:
        write_document(comparing_markdown.render(made))
    else:
        write_text(comparing_text.render(made))
    if made.old.problems or did_fail(made.old):
        raise typer.Exit(max(exit_status([made.old]), exit_status([made.new])))
    raise typer.Exit(exit_status([made.new]))
