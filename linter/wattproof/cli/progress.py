"""One line on the error output that says how far long work is, on a terminal only."""

from __future__ import annotations

import os
import sys
import time
from types import TracebackType
from typing import Final, Self

QUIET: Final = 2.0
"""Seconds of work before anything is said."""
_PAUSE: Final = 0.1
"""Least seconds between two writings."""


class Progress:
    """How many of some pieces of work are done. Leaves nothing on the screen at its end.

    doing: what is done with each piece, in a word. total: how many there are. quiet: seconds before
    anything is said.
    """

    def __init__(self, doing: str, total: int, *, quiet: float = QUIET) -> None:
        self.doing = doing
        self.total = total
        self.count = 0
        self._next = time.monotonic() + quiet
        self._written = 0
        self._shown = total > 1 and _is_terminal()

    def __enter__(self) -> Self:
        return self

    def step(self, name: str) -> None:
        """Say which piece begins."""
        self.count += 1
        if self._shown and time.monotonic() >= self._next:
            self._next = time.monotonic() + _PAUSE
            self._write(f"{self.doing} {self.count} of {self.total}: {name}")

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._written:
            self._write("")

    def _write(self, text: str) -> None:
        """Write over the line that is there; what cannot be shown is spelt out."""
        from wattproof.reports.writing.columns import clean, width

        encoding = getattr(sys.stderr, "encoding", None) or "utf-8"
        columns = _columns() - 1  # a full line would move the cursor to the next
        line = clean(text).encode(encoding, "backslashreplace").decode(encoding)[:columns]
        while width(line) > columns:
            line = line[:-1]
        blank = " " * max(self._written - width(line), 0)
        self._written = width(line)
        try:
            sys.stderr.write(f"\r{line}{blank}\r")
            sys.stderr.flush()
        except OSError:
            self._shown = False  # the terminal has gone; the work goes on


def _is_terminal() -> bool:
    return sys.stderr is not None and sys.stderr.isatty() and os.environ.get("TERM", "") != "dumb"


def _columns() -> int:
    try:
        return os.get_terminal_size(sys.stderr.fileno()).columns or 80
    except (OSError, ValueError):
        return 80
