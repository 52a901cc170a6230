"""The formats that schedules are written in: each by its word, with the file that writes it.

Every format is a file in this room with one function, `render`, from a `Listing` to a text. To add
one, write that file and name it here; the command and its help take it from here.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import TYPE_CHECKING, Final, TypeAlias

if TYPE_CHECKING:
    from wattproof.reports.schedules.listing import Listing

Render: TypeAlias = "Callable[[Listing], str]"

FORMATS: Final[dict[str, str]] = {"text": "text", "csv": "csv", "markdown": "markdown"}


def writer_of(word: str) -> Render:
    """What writes a format. Only that file is loaded."""
    written: Render = import_module(f"{__package__}.{FORMATS[word]}").render
    return written
