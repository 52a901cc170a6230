"""The page, built once for all tests and kept until what it is built from changes."""

from __future__ import annotations

import fcntl
import hashlib
import importlib.util
import subprocess
import sys
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).parents[2]
BUILD = ROOT / "docs" / "try" / "build.py"
SOURCES = ("docs/try", "linter", "rules", "schemas/plan.schema.json", "examples", "pyproject.toml")


def builder() -> ModuleType:
    """The script that builds, as a module."""
    spec = importlib.util.spec_from_file_location("build_of_page", BUILD)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def built() -> Path:
    """The folder of the page as the sources are now; several processes build it once."""
    cache: Path = builder().cache()
    site = cache / f"site-{_digest()}"
    with (cache / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not site.exists():
            done = subprocess.run(
                [sys.executable, str(BUILD), str(site)], capture_output=True, text=True
            )
            assert done.returncode == 0, done.stdout + done.stderr
            for old in sorted(cache.glob("site-*"), key=lambda each: each.stat().st_mtime)[:-3]:
                builder().shutil.rmtree(old, ignore_errors=True)
    return site


def _digest() -> str:
    found = hashlib.sha256()
    for name in SOURCES:
        base = ROOT / name
        files = sorted(base.rglob("*")) if base.is_dir() else [base]
        for file in files:
            if file.is_file() and "__pycache__" not in file.parts and ".egg-info" not in str(file):
                found.update(file.relative_to(ROOT).as_posix().encode() + file.read_bytes())
    return found.hexdigest()[:16]
