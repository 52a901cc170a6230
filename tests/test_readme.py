"""What the README shows is what a run gives."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

from wattproof.testing import check_text

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", README, flags=re.DOTALL)


def test_the_plan_shown_is_sound() -> None:
    [plan] = blocks("yaml")
    assert [f.message for f in check_text(plan).findings] == []


def test_the_first_command_runs_the_main_job_on_an_example() -> None:
    run, _ = blocks("sh")
    command = run.strip().split(" && ")[-1].split()
    assert command[0].endswith("wattproof")
    done = subprocess.run(
        [sys.executable, "-m", "wattproof", *command[1:]],
        cwd=ROOT,
        capture_output=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout.decode() + done.stderr.decode()


def test_the_second_command_is_what_runs_before_landing() -> None:
    _, test = blocks("sh")
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert re.search(r"grep -m1 \"\^python3 -m venv \.\*pytest -n auto\$\" README\.md", ci)
    assert re.fullmatch(r"python3 -m venv .*pytest -n auto", test.strip())


def test_every_command_is_named_and_no_other() -> None:
    from wattproof.cli.app import build_app

    named = set(re.findall(r"^\| `wattproof (\w+)", README, flags=re.MULTILINE))
    known = {c.callback.__name__ for c in build_app().registered_commands if c.callback}
    assert named == known
