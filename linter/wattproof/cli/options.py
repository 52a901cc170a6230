"""Arguments and options that several commands take."""

from __future__ import annotations

from typing import Annotated, TypeAlias

import typer

from wattproof.cli.choices import Threshold

OnePlan: TypeAlias = Annotated[
    str,
    typer.Argument(
        metavar="PLAN", help="The plan: a file, or - for standard input.", show_default=False
    ),
]
SomePlans: TypeAlias = Annotated[
    list[str],
    typer.Argument(
        metavar="PLAN",
        help="Plans to check: files, folders with plans in them, or - for standard input.",
        show_default=False,
    ),
]
Working: TypeAlias = Annotated[
    bool, typer.Option("--working", help="Show how every number was worked out.")
]
InputName: TypeAlias = Annotated[
    str | None,
    typer.Option(
        metavar="FILE",
        help="The name of the plan on standard input, from which its parts are found.",
        show_default=False,
    ),
]
SettingsName: TypeAlias = Annotated[
    str | None,
    typer.Option(
        "--settings",
        metavar="FILE",
        help="The settings file; unless named, wattproof-settings.yaml in the folder of the plan "
        "or above it in its repository.",
        show_default=False,
    ),
]
RuleOptions: TypeAlias = Annotated[
    list[str] | None,
    typer.Option(
        "--option",
        metavar="RULE.OPTION=NUMBER",
        help="Set an option of a rule; may be repeated. `wattproof basis RULE` lists them.",
        show_default=False,
    ),
]
LeastLevel: TypeAlias = Annotated[
    Threshold | None,
    typer.Option(
        "--level",
        help="Findings of this level or a graver one give exit status 1; unless set, warning.",
        show_default=False,
    ),
]
OutputBeside: TypeAlias = Annotated[
    str | None,
    typer.Option(
        "--output",
        "-o",
        metavar="FILE",
        help="Where it goes, - for standard output; unless named, a file beside the plan.",
        show_default=False,
    ),
]
OutputName: TypeAlias = Annotated[
    str,
    typer.Option("--output", "-o", metavar="FILE", help="Where it goes; - for standard output."),
]
