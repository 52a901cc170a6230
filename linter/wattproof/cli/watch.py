"""wattproof watch: the page of a plan in a browser, renewed whenever the plan is saved."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Annotated

import typer

from wattproof.cli.options import RuleOptions, SettingsName

if TYPE_CHECKING:
    from wattproof.cli.page_server import PageServer
    from wattproof.cli.watched import Look, Watched
    from wattproof.packs import RuleSet


def watch(
    plan: Annotated[
        str, typer.Argument(metavar="PLAN", help="The plan, a file.", show_default=False)
    ],
    port: Annotated[
        int,
        typer.Option(
            metavar="NUMBER",
            min=0,
            max=65535,
            help="The port of this machine to serve it on; unless given, one that is free.",
            show_default=False,
        ),
    ] = 0,
    browser: Annotated[
        bool, typer.Option("--browser", help="Open it in the browser as well.")
    ] = False,
    option: RuleOptions = None,
    settings: SettingsName = None,
) -> None:
    """Show the page of a plan in a browser, and renew it whenever the plan is saved.

    So it is with its files of labels and its settings. It is served to this machine alone, at an
    address with a secret in it, until control-C ends it.

    Exit status: 0 where control-C ended it, 2 where the call is unusable.
    """
    from wattproof.cli.errors import CallUnusable
    from wattproof.cli.output import write_text
    from wattproof.cli.packs import installed_rules
    from wattproof.cli.page_server import PageServer
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.settings import FILE_NAMES

    if not os.path.isfile(plan):
        raise CallUnusable(f"there is no file {plan}: name the file of a plan")
    if os.path.basename(plan) in FILE_NAMES:
        raise CallUnusable(f"{plan} holds settings: name the plan")
    rule_set = installed_rules()
    PlanSettings(rule_set, settings, option or (), None)  # what the call cannot set is told at once
    server = PageServer(port)
    try:
        write_text(f"{server.address}\nRenewed whenever {plan} is saved; control-C ends it.\n")
        opened = not browser
        while True:
            files, seen = _shown(plan, server, rule_set, settings, option or ())
            if not opened:
                _open(server.address)
                opened = True
            files.wait(seen)
    except KeyboardInterrupt:
        return
    finally:
        server.close()


def _shown(
    plan: str,
    server: PageServer,
    rule_set: RuleSet,
    settings: str | None,
    options: list[str] | tuple[str, ...],
) -> tuple[Watched, Look]:
    """Check the plan as it is now, and show that; which files were read, as they were before."""
    from wattproof.cli.for_page import ForPage
    from wattproof.cli.output import write_text
    from wattproof.cli.plan_settings import PlanSettings
    from wattproof.cli.watched import watched
    from wattproof.reports import page
    from wattproof.reports.findings.glance import verdict_of
    from wattproof.source import PlanUnusable, read_text

    while True:
        try:
            text = read_text(plan, shown_as=plan)
        except PlanUnusable:
            text = ""
        files = watched(plan, text, settings)
        seen = files.look()
        one = ForPage(plan, plan, rule_set, PlanSettings(rule_set, settings, options, None))
        try:
            made = page.render(one.page(), live=True)
        except PlanUnusable:
            continue  # a file of labels went away meanwhile, which the next check tells
        if watched(plan, one.text, settings) != files:
            continue
        if server.show(made):
            verdict = verdict_of(one.checked.result)
            write_text(f"{verdict.signal}: {verdict.says}\n")
        return files, seen


def _open(address: str) -> None:
    import webbrowser

    from wattproof.cli.output import write_error

    try:
        done = webbrowser.open(address)
    except webbrowser.Error:
        done = False
    if not done:
        write_error("wattproof: no browser could be opened; open the address in one yourself")
