"""All commands, wired."""

from __future__ import annotations

from importlib import import_module
from typing import Annotated, Final

import typer

from wattproof.cli.output import write_text

COMMANDS: Final = (
    "new", "check", "layouts", "questions", "choose", "mend", "expect", "report", "watch", "index",
    "compare", "diagram", "schedule", "figures", "curve", "basis", "rules", "settings", "schema",
    "language-server",
)  # fmt: skip
"""In the order of the help. Each is the function of its name in the module of its name."""


def build_app(called: str = "") -> typer.Typer:
    """The program as typer sees it. Nothing of the library is loaded before a command runs.

    called: the first word of a call; where it is a command, that one alone is read, since typer
    takes longer over all of them than a small plan takes to be checked.
    """
    app = typer.Typer(
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        add_completion=True,
        no_args_is_help=True,
        context_settings={"help_option_names": ["-h", "--help"]},
    )
    app.callback()(_common)
    for name in (called,) if called in COMMANDS else COMMANDS:
        word = name.replace("-", "_")
        app.command(name)(getattr(import_module(f"wattproof.cli.{word}"), word))
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
