"""Calls of the program, as a user or another program makes them.

Most are made in this process, since to start one takes several times as long as a check. A process
of its own is started where the environment says how Python starts.
"""

from __future__ import annotations

import ast
import contextlib
import io
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from inspect import unwrap
from pathlib import Path

import pytest

from reports.report_rules import PLAN
from wattproof import source
from wattproof.cli.main import run
from wattproof.packs import discover

ROOT = Path(__file__).parents[2]
SOURCES = os.pathsep.join((str(ROOT / "linter"), str(ROOT / "rules")))

SOUND = (ROOT / "tests" / "cli" / "plans" / "sound.yaml").read_text(encoding="utf-8")
FAULTY = SOUND.replace("series: 3", "series: 4")
UNUSABLE = "wattproof: 1\nsetting: vehicle\nfuses: {f: {rating: 40}}\n"

__all__ = [
    "FAULTY",
    "PLAN",
    "ROOT",
    "SOUND",
    "UNUSABLE",
    "call",
    "call_apart",
    "failing_pack",
    "folder",
    "heavy_loaded",
]


_MARKS = ("NO_COLOR", "FORCE_COLOR", "TERM")
_OF_START = ("PYTHON", "LANG", "LC_")
_OF_A_PIPE = 60_000  # bytes that a pipe holds with nobody reading yet


def call(
    *arguments: str,
    stdin: bytes = b"",
    cwd: Path | None = None,
    packs: Path | None = None,
    **environment: str,
) -> subprocess.CompletedProcess[bytes]:
    """Run `wattproof` with arguments. packs: a folder with a further pack of rules."""
    started_otherwise = any(key.startswith(_OF_START) for key in environment)
    if not started_otherwise and len(stdin) < _OF_A_PIPE:
        with _installed(packs):
            return _called_here(arguments, stdin, cwd, environment)
    return call_apart(*arguments, stdin=stdin, cwd=cwd, packs=packs, **environment)


def call_apart(
    *arguments: str,
    stdin: bytes = b"",
    cwd: Path | None = None,
    packs: Path | None = None,
    **environment: str,
) -> subprocess.CompletedProcess[bytes]:
    """The same in a process of its own, whatever is called."""
    paths = [SOURCES] + ([str(packs)] if packs else [])
    without = (*_MARKS, "PYTHONDONTWRITEBYTECODE")  # compiling all anew takes longest
    plain = {k: v for k, v in os.environ.items() if k not in without}
    return subprocess.run(
        [sys.executable, "-m", "wattproof", *arguments],
        input=stdin,
        capture_output=True,
        cwd=cwd,
        env={**plain, "PYTHONPATH": os.pathsep.join(paths), **environment},
        timeout=60,
        check=False,
    )


_LOADED = """
import sys
from wattproof.cli.main import run
status = run(sys.argv[1:])
heavy = {"rich", "jsonschema", "numpy", "pint", "click", "hypothesis", "yaml", "xml"}
heavy |= {"pygls", "lsprotocol", "attrs", "asyncio", "wattproof.editor"}
sys.stderr.write(repr((status, sorted(heavy & set(sys.modules)))))
"""


def heavy_loaded(*arguments: str, cwd: Path) -> tuple[int, list[str]]:
    """How a call ends, and what it loaded of all that would make it slow to start."""
    done = subprocess.run(
        [sys.executable, "-c", _LOADED, *arguments],
        capture_output=True,
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": SOURCES},
        check=False,
    )
    status, loaded = ast.literal_eval(done.stderr.decode())
    return status, loaded


def _called_here(
    arguments: Sequence[str], stdin: bytes, cwd: Path | None, environment: Mapping[str, str]
) -> subprocess.CompletedProcess[bytes]:
    """One call in this process, which then has read no file, as a new one has."""
    source._read.clear()
    out, errors = (io.TextIOWrapper(io.BytesIO(), encoding="utf-8") for _ in range(2))
    given = _piped(stdin)
    with (
        contextlib.chdir(cwd or Path.cwd()),
        pytest.MonkeyPatch.context() as patch,
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(errors),
        given,
    ):
        for mark in _MARKS:
            patch.delenv(mark, raising=False)
        for key, value in environment.items():
            patch.setenv(key, value)
        patch.setattr(sys, "stdin", given)
        status = run(list(arguments))
    written = []
    for stream in (out, errors):
        stream.flush()
        written.append(stream.buffer.getvalue())  # type: ignore[attr-defined]
    return subprocess.CompletedProcess(arguments, status, *written)


@contextlib.contextmanager
def _installed(packs: Path | None) -> Iterator[None]:
    """A folder is on the path, and what was loaded from it is forgotten afterwards."""
    if packs is None:
        yield
        return
    before = set(sys.modules)
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(packs)
        patch.setattr("wattproof.cli.packs.discover", unwrap(discover))
        try:
            yield
        finally:
            for name in set(sys.modules).difference(before):
                if (getattr(sys.modules[name], "__file__", None) or "").startswith(str(packs)):
                    del sys.modules[name]


def _piped(data: bytes) -> io.TextIOWrapper:
    """What reads some bytes from a pipe."""
    read, write = os.pipe()
    os.write(write, data)
    os.close(write)
    return open(read, encoding="utf-8")


def failing_pack(folder: Path, rule: str) -> Path:
    """A pack of rules, as an installation would leave it on the path."""
    package = folder / "ill_pack"
    package.mkdir(parents=True)
    (package / "__init__.py").write_text('"""A pack for tests."""\n', encoding="utf-8")
    (package / "ill_rule.py").write_text(rule, encoding="utf-8")
    info = folder / "ill_pack-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: ill-pack\nVersion: 1.0\n")
    (info / "entry_points.txt").write_text("[wattproof.rules]\nill = ill_pack\n")
    return folder


def folder(at: Path, **texts: str) -> Path:
    """A folder with plans: name=text, `__` for a folder below."""
    for name, text in texts.items():
        path = at / (name.replace("__", "/") + ".yaml")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return at
