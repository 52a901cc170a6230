"""The example pack, installed beside Wattproof without a network, is found, run and tested."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACK = ROOT / "examples" / "pack"


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that holds what an installer makes of the pack: its package and its metadata."""
    folder = tmp_path_factory.mktemp("installed")
    project = tomllib.loads((PACK / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    shutil.copytree(PACK / "alder_rules", folder / "alder_rules")
    metadata = folder / f"{project['name'].replace('-', '_')}-{project['version']}.dist-info"
    metadata.mkdir()
    (metadata / "METADATA").write_text(
        f"Metadata-Version: 2.1\nName: {project['name']}\nVersion: {project['version']}\n",
        encoding="utf-8",
    )
    points = "".join(
        f"[{group}]\n" + "".join(f"{name} = {value}\n" for name, value in named.items())
        for group, named in project["entry-points"].items()
    )
    (metadata / "entry_points.txt").write_text(points, encoding="utf-8")
    return folder


def python(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *arguments],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder), "PYTHONUTF8": "1"},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


def test_its_own_tests_pass(installed: Path) -> None:
    shutil.copytree(PACK / "tests", installed / "tests", dirs_exist_ok=True)
    done = python(installed, "-m", "pytest", "-q", "-p", "no:cacheprovider", "tests")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "2 passed" in done.stdout


def test_its_rule_is_listed_beside_the_built_in_ones(installed: Path) -> None:
    listed = python(installed, "-m", "wattproof", "rules").stdout
    assert "alder/array-cable-long" in listed
    assert "  string-fuse-missing" in listed


def test_its_rule_reads_the_option_that_a_call_sets(installed: Path) -> None:
    plan = ROOT / "examples" / "van-two-modules.yaml"
    call = ("-m", "wattproof", "check", str(plan), "--level", "note")
    assert python(installed, *call).returncode == 0
    strict = python(installed, *call, "--option", "alder/array-cable-long.longest=3")
    assert strict.returncode == 1
    assert "`home-run` is 4 m long, and we allow 3 m" in " ".join(strict.stdout.split())
