"""Many plans in one call: several processes say what one would, and none that ends loses a plan."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from cli.calls import FAULTY, SOUND, SOURCES, UNUSABLE, call, folder
from wattproof.cli import examining, side_by_side
from wattproof.source import was_read

FORMATS = ("text", "short", "markdown", "json", "sarif", "junit", "annotations")
ONE = {0}
SEVERAL = {0, 1, 2}

pytestmark = pytest.mark.skipif(
    sys.platform != "linux", reason="several processes where forks are safe"
)


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    texts = (SOUND, FAULTY, UNUSABLE)
    return folder(tmp_path, **{f"plan-{n:02}": texts[n % 3] for n in range(side_by_side.FEWEST)})


def with_processors(patch: pytest.MonkeyPatch, processors: set[int]) -> None:
    patch.setattr(os, "sched_getaffinity", lambda process: processors)


@pytest.mark.parametrize("format", FORMATS)
def test_several_processes_say_what_one_says(
    plans: Path, monkeypatch: pytest.MonkeyPatch, format: str
) -> None:
    said = []
    for processors in (ONE, SEVERAL):
        with_processors(monkeypatch, processors)
        done = call("check", ".", "--format", format, cwd=plans)
        said.append((done.returncode, done.stdout, done.stderr))
    assert said[0] == said[1]


@pytest.mark.parametrize("ends", [lambda: os._exit(9), lambda: 1 / 0], ids=["killed", "failed"])
def test_a_process_that_ends_loses_no_plan(
    plans: Path, monkeypatch: pytest.MonkeyPatch, ends: Any
) -> None:
    with_processors(monkeypatch, ONE)
    whole = call("check", ".", cwd=plans).stdout
    first, check = os.getpid(), examining.examined

    def ill(path: str, *others: Any, **named: Any) -> Any:
        if os.getpid() != first and path.endswith("05.yaml"):
            ends()
        return check(path, *others, **named)

    monkeypatch.setattr(side_by_side, "examined", ill)
    with_processors(monkeypatch, SEVERAL)
    assert call("check", ".", cwd=plans).stdout == whole


def test_what_other_processes_read_is_known_to_be_read(
    plans: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_processors(monkeypatch, SEVERAL)
    call("check", ".", cwd=plans)
    assert all(was_read(str(plan)) for plan in plans.glob("*.yaml"))


def test_standard_input_is_read_by_the_process_that_has_it(
    plans: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_processors(monkeypatch, SEVERAL)
    done = call(
        "check", "-", ".", "--name", "typed.yaml", "--quiet", cwd=plans, stdin=FAULTY.encode()
    )
    assert "typed.yaml: FIX FIRST" in done.stdout.decode()


def heed_interruptions() -> None:
    """What a shell starts in the background is born deaf to them, and so is all that it starts."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def test_an_interrupted_call_ends_at_once_and_says_nothing(tmp_path: Path) -> None:
    at = folder(tmp_path, **{f"plan-{n}": FAULTY for n in range(300)})
    running = subprocess.Popen(
        [sys.executable, "-m", "wattproof", "check", str(at)],
        env={**os.environ, "PYTHONPATH": SOURCES},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
        preexec_fn=heed_interruptions,
    )
    born = Path(f"/proc/{running.pid}/task/{running.pid}/children")
    until = time.monotonic() + 30.0
    while not born.read_text() and time.monotonic() < until:
        time.sleep(0.01)
    os.killpg(running.pid, signal.SIGINT)
    said, complained = running.communicate(timeout=30)
    assert (running.returncode, said, complained) == (130, b"", b"")
