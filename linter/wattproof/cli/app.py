"""All commands, wired."""

from __future__ import annotations

from typing import Annotated

import typer

from wattproof.cli.basis import basis
from wattproof.cli.check import check
from wattproof.cli.choose import choose
from wattproof.cli.compare import compare
from wattproof.cli.curve import curve
from wattproof.cli.diagram import diagram
from wattproof.cli.expect import expect
from wattproof.cli.figures import figures
from wattproof.cli.layouts import layouts
from wattproof.cli.mend import mend
from wattproof.cli.new import new
from wattproof.cli.output import write_text
from wattproof.cli.questions import questions
from wattproof.cli.report import report
from wattproof.cli.rules import rules
from wattproof.cli.schedule import schedule
from wattproof.cli.schema import schema
from wattproof.cli.settings import settings


def build_app() -> typer.Typer:
    """The program as typer sees it. Nothing of the library is loaded before a command runs."""
    app = typer.Typer(
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        add_completion=True,
        no_args_is_help=True,
        context_settings={"help_option_names": ["-h", "--help"]},
    )
    app.callback()(_common)
    for command in (
        new, check, layouts, questions, choose, mend, expect, report, compare, diagram, schedule,
        figures, curve, basis, rules, settings, schema,
    ):  # fmt: skip
        app.command()(command)
    return app


def _version(asked: bool) -> None:
    if asked:
        from wattproof import __version__

        write_text(f"wattproof {__version__}\n")
        raise typer.Exit


def _common(
    version: Annotated[
        bool,
        typer.Option("--version", "-V", help="Show the version.", callback=_version, is_eager=True),
    ] = False,
) -> None:
    """Check a declared off-grid solar installation before any part is connected.

    It does not replace the local code or a licensed electrician.
    """
