"""A file written whole or not at all: beside it first, then renamed over it.

Whatever fails or stops on the way, under its name stands what stood there, or all of the new.
"""

from __future__ import annotations

import os
import secrets
import stat
from collections.abc import Callable
from contextlib import suppress


def replace_file(target: str, data: bytes, *, before: Callable[[], None] | None = None) -> None:
    """Write a file whole. What is no regular file, such as a pipe, is written to as it is.

    before: called when the new file is ready and before it takes its name; what it raises leaves
    the old one. Raises OSError where the file cannot be written.
    """
    try:
        there: os.stat_result | None = os.stat(target)
    except FileNotFoundError:
        there = None
    if there is not None and not stat.S_ISREG(there.st_mode):
        with open(target, "wb") as opened:
            opened.write(data)
        return
    folder, name = os.path.split(target)
    beside = os.path.join(folder, f".{name[:80]}.{secrets.token_hex(6)}.new")
    try:
        with open(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666), "wb") as opened:
            opened.write(data)
            opened.flush()
            os.fsync(opened.fileno())  # the name must not reach the disk before what it names
        if there is not None:
            with suppress(OSError):  # only the owner of the machine may give a file away
                os.chown(beside, there.st_uid, there.st_gid)
            os.chmod(beside, stat.S_IMODE(there.st_mode))
        if before is not None:
            before()
        os.replace(beside, target)
    except BaseException:
        with suppress(OSError):
            os.unlink(beside)
        raise
    _keep_name(folder)


def _keep_name(folder: str) -> None:
    """Lead the new name to the disk, where the system can; the file is whole either way."""
    with suppress(OSError):
        opened = os.open(folder or ".", os.O_RDONLY)
        try:
            os.fsync(opened)
        finally:
            os.close(opened)
