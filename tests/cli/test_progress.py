"""The line that says how far long work is: on a terminal, and gone at its end."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from contextlib import redirect_stderr
from pathlib import Path

import pytest

from cli.calls import SOUND, SOURCES, call, folder
from wattproof.cli.progress import Progress


class Terminal(io.StringIO):
    """An error output that says it is a terminal."""

    encoding = "ascii"

    def isatty(self) -> bool:
        return True

    def screen(self) -> str:
        """What is on the line in the end."""
        line = ""
        for piece in self.getvalue().split("\r"):
            line = piece + line[len(piece) :]
        return line.rstrip()


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch) -> Terminal:
    monkeypatch.setenv("TERM", "xterm")
    return Terminal()


def test_it_says_what_is_done_and_takes_it_back(terminal: Terminal) -> None:
    with redirect_stderr(terminal), Progress("checking", 3, quiet=0) as progress:
        progress.step("a/plan.yaml")
        assert terminal.screen() == "checking 1 of 3: a/plan.yaml"
    assert terminal.screen() == ""
    assert "\n" not in terminal.getvalue()


def test_short_work_and_single_pieces_are_quiet(terminal: Terminal) -> None:
    with redirect_stderr(terminal), Progress("checking", 3) as progress:
        progress.step("a")
    with redirect_stderr(terminal), Progress("checking", 1, quiet=0) as progress:
        progress.step("a")
    assert terminal.getvalue() == ""


def test_it_is_taken_back_where_the_work_breaks_off(terminal: Terminal) -> None:
    def break_off() -> None:
        with Progress("checking", 2, quiet=0) as progress:
            progress.step("a")
            raise KeyboardInterrupt

    with redirect_stderr(terminal), pytest.raises(KeyboardInterrupt):
        break_off()
    assert terminal.screen() == ""
    assert terminal.getvalue()


def test_names_cannot_move_the_cursor_or_leave_the_line(terminal: Terminal) -> None:
    with redirect_stderr(terminal), Progress("checking", 2, quiet=0) as progress:
        progress.step("\x1b[2J\n\u202eé" + "long" * 50)
        assert "\x1b" not in terminal.getvalue()
        assert "\n" not in terminal.getvalue()
        assert 60 < len(terminal.screen()) <= 79
        assert terminal.getvalue().isascii()


def test_no_terminal_no_line(monkeypatch: pytest.MonkeyPatch, terminal: Terminal) -> None:
    plain = io.StringIO()
    for stream in (plain, None):
        with redirect_stderr(stream), Progress("checking", 2, quiet=0) as progress:
            progress.step("a")
    assert plain.getvalue() == ""
    monkeypatch.setenv("TERM", "dumb")
    with redirect_stderr(terminal), Progress("checking", 2, quiet=0) as progress:
        progress.step("a")
    assert terminal.getvalue() == ""


AT_ONCE = """
import sys
from wattproof.cli import progress
progress.Progress.__init__.__kwdefaults__["quiet"] = 0.0
from wattproof.cli.main import run
sys.exit(run(sys.argv[1:]))
"""


@pytest.mark.skipif(os.name == "nt", reason="needs terminals of Unix")
def test_a_check_on_a_real_terminal(tmp_path: Path) -> None:
    import pty

    folder(tmp_path, a=SOUND, b=SOUND)
    ours, theirs = pty.openpty()
    done = subprocess.run(
        [sys.executable, "-c", AT_ONCE, "check", "."],
        stdout=subprocess.PIPE,
        stderr=theirs,
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": SOURCES, "TERM": "xterm"},
        check=False,
    )
    os.close(theirs)
    written = os.read(ours, 4096).decode()
    os.close(ours)
    assert done.returncode == 0
    assert "checking 1 of 2: ./a.yaml" in written
    assert written.split("\r")[-2].strip() == ""
    assert b"checking" not in done.stdout
    assert call("check", ".", cwd=tmp_path).stdout == done.stdout


@pytest.mark.skipif(os.name == "nt", reason="needs pipes of Unix")
def test_a_check_in_a_pipe_is_quiet(tmp_path: Path) -> None:
    folder(tmp_path, a=SOUND, b=SOUND)
    done = subprocess.run(
        [sys.executable, "-c", AT_ONCE, "check", "."],
        capture_output=True,
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": SOURCES, "TERM": "xterm"},
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, b"")
