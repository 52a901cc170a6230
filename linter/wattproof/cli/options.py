"""Arguments and options that several commands take."""

from __future__ import annotations

from typing import Annotated, TypeAlias

import typer

OnePlan: TypeAlias = Annotated[
    str,
    typer.Argument(
        metavar="PLAN", help="The plan: a file, or - for standard input.", show_default=False
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
