"""Writing to standard output: for people in its encoding, for programs always in UTF-8."""

from __future__ import annotations

import io
import os
import re
import shutil
import stat
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, redirect_stderr
from typing import Final, TextIO

from wattproof.cli.errors import CallUnusable
from wattproof.replacing import replace_file
from wattproof.reports.writing.columns import WIDTH, clean
from wattproof.reports.writing.paint import Paint, coloured, plain

STANDARD_OUTPUT: Final = "-"
_OURS: Final = re.compile(
    r"^[ \t]*[\"']?wattproof(-settings)?[\"']?[ \t]*:|^[ \t]*\{[^{}<>]*\bwattproof\b", re.MULTILINE
)
"""The key that every plan, every file of datasheets and every settings file has."""
_OWN_MARKS: Final = ('name="generator" content="Wattproof"', 'id="one-line-title"')
"""By which a page and a picture are known to be of this program."""
MOST_COLUMNS: Final = 100  # longer lines are hard to read
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


def screen_columns() -> int:
    """Columns of the screen that people read on: COLUMNS, the terminal's, or 80 in a pipe."""
    told = os.environ.get("COLUMNS", "")
    if told.isdecimal() and int(told):
        return int(told)
    if sys.stdout is None or not sys.stdout.isatty():
        return WIDTH
    return min(shutil.get_terminal_size((WIDTH, 24)).columns, MOST_COLUMNS)


def paint_of_screen() -> Paint:
    """How to colour: not where NO_COLOR is set, always where FORCE_COLOR is, else on a terminal."""
    if os.environ.get("NO_COLOR"):
        return plain
    if os.environ.get("FORCE_COLOR"):
        return coloured
    dumb = os.environ.get("TERM") == "dumb"
    return coloured if sys.stdout is not None and sys.stdout.isatty() and not dumb else plain


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

    Raises CallUnusable where the file cannot be written, was read by this call, or holds a plan,
    datasheets or settings. What stood there stays until the new file is whole.
    """
    if target == STANDARD_OUTPUT:
        write_document(text)
        return
    _refuse_what_is_kept(target)
    try:
        replace_file(os.path.realpath(target), text.encode("utf-8"))
    except OSError as error:
        raise CallUnusable(f"{target} cannot be written: {error.strerror}") from None


def beside(plan: str, ending: str) -> str:
    """Where a document of a plan goes that was sent nowhere: beside it, by its name.

    Standard output for a plan that is no file. Raises CallUnusable where a file of that name stands
    there that this program did not write.
    """
    if plan == STANDARD_OUTPUT:
        return STANDARD_OUTPUT
    target = os.path.splitext(plan)[0] + ending
    try:
        with open(target, encoding="utf-8", errors="replace") as opened:
            held = opened.read()
    except OSError:
        return target  # there is none, or writing will say what is wrong
    if held and not any(mark in held for mark in _OWN_MARKS):
        message = f"{target} is there already, and of something else"
        raise CallUnusable(f"{message}: name a file with -o, or - for standard output")
    return target


def say_where(target: str) -> None:
    """Say on the error output where a document went that was sent nowhere."""
    if target != STANDARD_OUTPUT:
        write_error(f"written to {target}")


def _refuse_what_is_kept(target: str) -> None:
    """Raise CallUnusable where a file is written by hand, and may be the only copy."""
    from wattproof.settings.find import FILE_NAMES
    from wattproof.source import MAX_BYTES, was_read

    if was_read(target):
        raise CallUnusable(
            f"{target} was read by this call, and is not overwritten: name another file"
        )
    if os.path.basename(target) in FILE_NAMES:
        raise CallUnusable(f"{target} is the name of a settings file: name another file")
    try:
        if not stat.S_ISREG(os.stat(target).st_mode):
            return
        with open(target, "rb") as opened:
            held = opened.read(MAX_BYTES)
    except OSError:
        return  # there is none yet, or writing will say what is wrong
    coding = "utf-16" if held[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    if _OURS.search(held.decode(coding, "replace")):
        message = f"{target} holds a plan, datasheets or settings and is not overwritten"
        raise CallUnusable(f"{message}: name another file")


def refuse_overwriting(plan: str, target: str, what: str) -> None:
    """Raise CallUnusable where a document would go to the file of the plan, through links too."""
    if STANDARD_OUTPUT not in (plan, target) and os.path.realpath(plan) == os.path.realpath(target):
        raise CallUnusable(f"the {what} would be written over the plan {plan}: name another file")


def write_error(text: str) -> None:
    """Say one line on the error output.

    It may hold words of a plan, names of files and options: what would steer a terminal, or hide
    itself on one, is spelt out.
    """
    if sys.stderr is None:
        return
    encoding = getattr(sys.stderr, "encoding", None) or "utf-8"
    line = clean(" ".join(text.split()))
    sys.stderr.write(line.encode(encoding, "backslashreplace").decode(encoding) + "\n")
    sys.stderr.flush()


@contextmanager
def cleaned_errors(arguments: Sequence[str]) -> Iterator[None]:
    """What others write on the error output meanwhile is cleaned, where a call could steer it.

    The command line's own messages repeat arguments as they were given. Without such arguments
    they are left alone, with their colours.
    """
    if sys.stderr is None or all(argument == clean(argument) for argument in arguments):
        yield
        return
    with redirect_stderr(_Cleaned(sys.stderr)):
        yield


class _Cleaned(io.TextIOBase):
    """Passes text on line by line, with nothing in it that steers a terminal."""

    def __init__(self, beneath: TextIO) -> None:
        self._beneath = beneath

    def write(self, text: str) -> int:
        lines = "\n".join(clean(line) for line in text.split("\n"))
        encoding = getattr(self._beneath, "encoding", None) or "utf-8"
        self._beneath.write(lines.encode(encoding, "backslashreplace").decode(encoding))
        return len(text)

    def flush(self) -> None:
        self._beneath.flush()


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
