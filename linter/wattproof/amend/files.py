"""The file of a plan, read to be written again; refused where that could lose what was written."""

from __future__ import annotations

import os
import stat
from typing import Final, NamedTuple

from wattproof.replacing import replace_file
from wattproof.source import MAX_BYTES, Place, PlanUnusable, Problem, read_text

_MARK: Final = "\ufeff".encode()
"""What some editors begin a file of UTF-8 text with; the reader passes over it."""


class NotSaved(Exception):
    """A plan cannot be written into its file: why, and what to do instead."""

    def __init__(self, why: str, instead: str) -> None:
        super().__init__(f"{why}: {instead}")
        self.why = why
        self.instead = instead


class PlanFile(NamedTuple):
    """A file as it was read. data: its bytes. text: what the reader sees of them."""

    path: str
    data: bytes
    text: str


def read_file(path: str, *, shown_as: str) -> PlanFile:
    """A plan's file with its bytes. Raises PlanUnusable where it cannot be read."""
    text = read_text(path, shown_as=shown_as)
    with open(path, "rb") as opened:
        data = opened.read(MAX_BYTES + 1)
    if data.decode("utf-8-sig", "replace") != text:
        start = Place(shown_as, 1, 1, 1, 1)
        message = "the file was changed while it was read"
        raise PlanUnusable([Problem(start, message, "run it again")])
    return PlanFile(path, data, text)


def save(file: PlanFile, text: str) -> None:
    """Write another text into a plan's file, whole or not at all. Raises NotSaved."""
    refuse_unfit(file)
    mark = _MARK if file.data.startswith(_MARK) else b""

    def unchanged() -> None:
        try:
            with open(file.path, "rb") as opened:
                now = opened.read(MAX_BYTES + 1)
        except OSError:
            now = b""
        if now != file.data:
            raise NotSaved(f"{file.path} was changed by something else meanwhile", "run it again")

    unchanged()
    try:
        replace_file(file.path, mark + text.encode("utf-8"), before=unchanged)
    except OSError as error:
        reason = error.strerror or str(error)
        raise NotSaved(f"{file.path} cannot be written ({reason})", _BY_HAND) from None


_BY_HAND: Final = "write what is shown by hand, or name another file with `-o`"


def refuse_unfit(file: PlanFile) -> None:
    """Raise NotSaved where a file must not be replaced by another one of its name."""
    path = file.path
    if os.path.islink(path):
        target = os.path.realpath(path)
        raise NotSaved(f"{path} is a link to {target}", "name that file, if it is meant")
    try:
        found = os.stat(path)
    except OSError:
        raise NotSaved(f"{path} is gone", _BY_HAND) from None
    if not stat.S_ISREG(found.st_mode):
        raise NotSaved(f"{path} is no regular file", _BY_HAND)
    if found.st_nlink > 1:
        raise NotSaved(f"{path} is one file under several names (a hard link)", _BY_HAND)
    writable = bool(found.st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH))
    if not writable or not os.access(path, os.W_OK):
        raise NotSaved(f"{path} may only be read", _BY_HAND)
