"""Writing to standard output: for people in its encoding, for programs always in UTF-8."""

from __future__ import annotations

import os
import sys
from typing import Final

from wattproof.cli.errors import CallUnusable

STANDARD_OUTPUT: Final = "-"
_PLAIN: Final = str.maketrans(
    {
        "−": "-",
        "×": "x",
        "²": "2",
        "°": "deg ",
        "Ω": "ohm",
        "µ": "u",
        "·": ".",
        "≥": ">=",
        "≤": "<=",
    }
)


def write_text(text: str) -> None:
    """Write for people. Signs that the output cannot show are replaced by plain ones, since a
    lost minus sign would be dangerous."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    try:
        data = text.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        data = text.translate(_PLAIN).encode("ascii", "backslashreplace")
    _write(data)


def write_document(text: str) -> None:
    """Write for programs: JSON is UTF-8 whatever the terminal is set to."""
    _write(text.encode("utf-8"))


def save_document(target: str, text: str) -> None:
    """Write for programs, its lines as they end: into a file, or to standard output for -.

    Raises CallUnusable where the file cannot be written.
    """
    if target == STANDARD_OUTPUT:
        write_document(text)
        return
    try:
        with open(target, "w", encoding="utf-8", newline="") as opened:
            opened.write(text)
    except OSError as error:
        raise CallUnusable(f"{target} cannot be written: {error.strerror}") from None


def refuse_overwriting(plan: str, target: str, what: str) -> None:
    """Raise CallUnusable where a document would go to the file of the plan, through links too."""
    if STANDARD_OUTPUT not in (plan, target) and os.path.realpath(plan) == os.path.realpath(target):
        raise CallUnusable(f"the {what} would be written over the plan {plan}: name another file")


def write_error(text: str) -> None:
    """Say one line on the error output."""
    if sys.stderr is None:
        return
    encoding = getattr(sys.stderr, "encoding", None) or "utf-8"
    line = " ".join(text.split())
    sys.stderr.write(line.encode(encoding, "backslashreplace").decode(encoding) + "\n")
    sys.stderr.flush()


def _write(data: bytes) -> None:
    if sys.stdout is None:  # closed by the caller
        return
    try:
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        sys.stdout.buffer.flush()
    except BrokenPipeError:
        _forget()  # the reader has seen enough; the exit status still says what was found
    except OSError as error:
        _forget()
        raise CallUnusable(f"the report cannot be written: {error.strerror}") from None


def _forget() -> None:
    """Lead what is left in the buffer nowhere, so that it is not written at the end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
