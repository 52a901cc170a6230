"""The scripts of examples/automation, run as a host or a repository runs them."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from cli.calls import FAULTY, ROOT, SOUND, SOURCES, folder

pytestmark = pytest.mark.skipif(
    os.name == "nt" or shutil.which("git") is None, reason="needs a Unix shell and git"
)
SCRIPTS = ROOT / "examples" / "automation"


class Repository:
    """A repository of plans, and a path on which the program is."""

    def __init__(self, top: Path) -> None:
        self.top = folder(top / "repository", plans__sound=SOUND, plans__other=SOUND)
        tools = top / "tools"
        tools.mkdir()
        program = tools / "wattproof"
        program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m wattproof "$@"\n')
        program.chmod(0o755)
        self.environment = {
            **os.environ,
            "PATH": os.pathsep.join((str(tools), os.environ["PATH"])),
            "PYTHONPATH": SOURCES,
            **{f"GIT_{who}_{what}": "a@example.org" for who in ("AUTHOR", "COMMITTER")
               for what in ("NAME", "EMAIL")},
        }  # fmt: skip
        self.run("git", "init", "-q")
        self.run("git", "add", ".")
        self.run("git", "commit", "-q", "-m", "plans")

    def run(self, *command: str, **more: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            command,
            cwd=self.top,
            env={**self.environment, **more},
            capture_output=True,
            encoding="utf-8",
            check=False,
        )


@pytest.fixture
def repository(tmp_path: Path) -> Repository:
    return Repository(tmp_path)


def test_the_check_of_a_change_leaves_reports_and_ends_as_the_check_does(
    repository: Repository,
) -> None:
    script = str(SCRIPTS / "check-plans")
    first = repository.run(script, "plans", "out")
    assert (first.returncode, first.stderr) == (0, "")
    assert {p.name for p in (repository.top / "out").iterdir()} == {
        "junit.xml",
        "summary.md",
        "wattproof.sarif",
    }
    folder(repository.top, plans__sound=FAULTY)
    (repository.top / "plans" / "new one.yaml").write_text(SOUND, encoding="utf-8")
    changed = repository.run(
        script, "plans", "out", BASE="HEAD", DOCUMENTATION="https://example.org/w"
    )
    assert changed.returncode == 1
    out = repository.top / "out"
    [run] = json.loads((out / "wattproof.sarif").read_text(encoding="utf-8"))["runs"]
    assert any(each["level"] == "error" for each in run["results"])
    assert run["tool"]["driver"]["rules"][0]["helpUri"].startswith("https://example.org/w/")
    assert len(ET.parse(out / "junit.xml").getroot()) == 3
    changes = (out / "changes.md").read_text(encoding="utf-8")
    assert "cold-voltage-over-controller" in changes
    assert "plans/other.yaml" not in changes
    assert "FIX FIRST" in (out / "summary.md").read_text(encoding="utf-8")


def test_the_hook_looks_at_what_a_commit_has(repository: Repository) -> None:
    hook = repository.top / ".git" / "hooks" / "pre-commit"
    hook.parent.mkdir(exist_ok=True)
    shutil.copy(SCRIPTS / "pre-commit", hook)
    commit = ("git", "commit", "-q", "-m", "change")
    folder(repository.top, plans__sound=FAULTY)
    repository.run("git", "add", ".")
    folder(repository.top, plans__sound=SOUND)  # mended in the folder, and not in the commit
    refused = repository.run(*commit)
    assert refused.returncode != 0
    assert "plans/sound.yaml" in refused.stdout + refused.stderr
    assert "plans/other.yaml" not in refused.stdout + refused.stderr
    repository.run("git", "add", ".")
    odd = repository.top / "plans" / "-a 'b'.yaml"
    odd.write_text(SOUND + "# more\n", encoding="utf-8")
    repository.run("git", "add", ".")
    accepted = repository.run(*commit)
    assert accepted.returncode == 0, accepted.stdout + accepted.stderr
    (repository.top / "notes.txt").write_text("no plan", encoding="utf-8")
    (repository.top / "other.yaml").write_text("services: {}\n", encoding="utf-8")
    repository.run("git", "add", ".")
    assert repository.run(*commit).returncode == 0
