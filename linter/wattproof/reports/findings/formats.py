"""The formats that a check is reported in: each by its word, with the file that writes it.

Every format is a file in this room with one function, `render`, from a `Run` to a text. To add one,
write that file and name it here; the command, its help and its tests take it from here.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import TYPE_CHECKING, Final, NamedTuple, TypeAlias

if TYPE_CHECKING:
    from wattproof.reports.findings.run import Run

Render: TypeAlias = "Callable[[Run], str]"


class Format(NamedTuple):
    """A file in this room. for_people: written in the encoding of a screen, not always in UTF-8.
    fixes: whether it tells what remedies would write into the texts of plans."""

    file: str
    for_people: bool = False
    fixes: bool = False


FORMATS: Final[dict[str, Format]] = {
    "text": Format("for_people", for_people=True),
    "short": Format("short", for_people=True),
    "markdown": Format("markdown"),
    "json": Format("json_report"),
    "sarif": Format("sarif", fixes=True),
    "junit": Format("junit"),
    "annotations": Format("annotations", for_people=True),
}


def writer_of(word: str) -> Render:
    """What writes a format. Only that file is loaded, since each start would pay for all."""
    written: Render = import_module(f"{__package__}.{FORMATS[word].file}").render
    return written
