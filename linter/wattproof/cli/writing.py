"""Writing into a plan's file, or a copy of it beside, for every command that does."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Annotated, TypeAlias

import typer

from wattproof.cli.errors import CallUnusable

if TYPE_CHECKING:
    from wattproof.amend.files import PlanFile

Write: TypeAlias = Annotated[
    bool, typer.Option("--write", help="Write it into the file; without it, only show it.")
]
CopyName: TypeAlias = Annotated[
    str | None,
    typer.Option(
        "--output",
        "-o",
        metavar="FILE",
        help="Write a changed copy, and leave the plan as it is.",
        show_default=False,
    ),
]


def read_for_writing(plan: str, file: str, *, write: bool, copy: str | None) -> PlanFile:
    """The plan with its bytes. Raises CallUnusable, PlanUnusable, and tells early what is unfit."""
    from wattproof.amend.files import NotSaved, PlanFile, read_file, refuse_unfit
    from wattproof.cli.plans import STANDARD_INPUT
    from wattproof.source import read_text

    if write and copy is not None:
        raise CallUnusable("--write changes the plan and -o writes a copy: give one of them")
    if copy == STANDARD_INPUT:
        raise CallUnusable("-o names a file here; what is written is shown without it")
    if plan == STANDARD_INPUT:
        if write:
            raise CallUnusable("a plan on standard input has no file to write into: use -o FILE")
        return PlanFile(plan, b"", read_text(plan, shown_as=file))
    if write:
        try:
            found = read_file(plan, shown_as=file)
            refuse_unfit(found)
        except NotSaved as refused:
            raise CallUnusable(str(refused)) from None
        return found
    return read_file(plan, shown_as=file)


def write_plan(file: PlanFile, text: str, *, parts: bool, write: bool, copy: str | None) -> str:
    """Write a changed plan where it was asked for; the name of the file, empty where it was not.

    parts: whether the plan names files beside it. Raises CallUnusable.
    """
    from wattproof.amend.files import NotSaved, save
    from wattproof.cli.output import save_document

    if write:
        try:
            save(file, text)
        except NotSaved as refused:
            raise CallUnusable(str(refused)) from None
        return file.path
    if copy is None:
        return ""
    folder = os.path.dirname(os.path.realpath(file.path if file.data else "./plan"))
    if parts and os.path.dirname(os.path.realpath(copy)) != folder:
        raise CallUnusable(
            f"{copy} would not find the files of `parts` from there: name one beside the plan"
        )
    save_document(copy, text)
    return copy
