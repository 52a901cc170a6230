"""Calls of the program in a process of its own, as a user or another program makes them."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from reports.report_rules import PLAN

ROOT = Path(__file__).parents[2]
SOURCES = os.pathsep.join((str(ROOT / "linter"), str(ROOT / "rules")))

SOUND = (ROOT / "tests" / "cli" / "plans" / "sound.yaml").read_text(encoding="utf-8")
FAULTY = SOUND.replace("series: 3", "series: 4")
UNUSABLE = "wattproof: 1\nsetting: vehicle\nfuses: {f: {rating: 40}}\n"

__all__ = ["FAULTY", "PLAN", "ROOT", "SOUND", "UNUSABLE", "call", "failing_pack", "folder"]


def call(
    *arguments: str,
    stdin: bytes = b"",
    cwd: Path | None = None,
    packs: Path | None = None,
    **environment: str,
) -> subprocess.CompletedProcess[bytes]:
    """Run `wattproof` with arguments. packs: a folder with a further pack of rules."""
    paths = [SOURCES] + ([str(packs)] if packs else [])
    plain = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "FORCE_COLOR", "TERM")}
    return subprocess.run(
        [sys.executable, "-m", "wattproof", *arguments],
        input=stdin,
        capture_output=True,
        cwd=cwd,
        env={**plain, "PYTHONPATH": os.pathsep.join(paths), **environment},
        timeout=60,
        check=False,
    )


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
