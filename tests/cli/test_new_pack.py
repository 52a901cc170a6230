"""A pack of rules from nothing to a finding, and what no pack can be called."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from cli.calls import ROOT, SOUND, SOURCES, call
from wattproof.cli.pack_template import names_of, texts_of

EXAMPLE = ROOT / "examples" / "pack"
LONG = SOUND.replace("length: 4 m", "length: 9 m")


def installed(pack: Path) -> Path:
    """What an installer adds to a pack that is used where it lies: its metadata."""
    project = tomllib.loads((pack / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    info = pack / f"{project['name'].replace('-', '_')}-{project['version']}.dist-info"
    info.mkdir()
    (info / "METADATA").write_text(
        f"Metadata-Version: 2.1\nName: {project['name']}\nVersion: {project['version']}\n",
        encoding="utf-8",
    )
    points = project["entry-points"]["wattproof.rules"]
    lines = "".join(f"{name} = {value}\n" for name, value in points.items())
    (info / "entry_points.txt").write_text(f"[wattproof.rules]\n{lines}", encoding="utf-8")
    return pack


def test_from_nothing_to_a_finding(tmp_path: Path) -> None:
    done = call("new", "--pack", "our-yard-rules", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    said = done.stdout.decode()
    assert "`our-yard/array-cable-long`" in said
    for name in re.findall(r"^  (\S+)$", said, flags=re.MULTILINE):
        assert (tmp_path / name).is_file()
    pack = installed(tmp_path / "our-yard-rules")
    (tmp_path / "plan.yaml").write_text(LONG, encoding="utf-8")
    found = call("check", "plan.yaml", "--level", "note", cwd=tmp_path, packs=pack)
    assert found.returncode == 1
    assert b"`home-run` is 9 m long, and we allow 8 m" in b" ".join(found.stdout.split())
    alone = call("check", "plan.yaml", "--level", "note", cwd=tmp_path)
    assert alone.returncode == 0
    assert b"our-yard/array-cable-long" in call("rules", packs=pack).stdout
    tested = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "tests"],
        cwd=pack,
        env={**os.environ, "PYTHONPATH": os.pathsep.join((SOURCES, str(pack)))},
        capture_output=True,
        check=False,
    )
    assert tested.returncode == 0, tested.stdout
    assert b"2 passed" in tested.stdout


def test_the_example_pack_is_what_is_written() -> None:
    written = texts_of(names_of("alder"))
    assert {name: (EXAMPLE / name).read_text(encoding="utf-8") for name in written} == written


@pytest.mark.parametrize(
    ("folder", "named"),
    [
        ("alder", ("alder", "alder-rules", "alder_rules")),
        ("Alder_Rules", ("alder", "alder-rules", "alder_rules")),
        ("my-2-pack", ("my-2", "my-2-rules", "my_2_rules")),
        ("rules", ("rules", "rules-rules", "rules_rules")),
    ],
)
def test_a_pack_is_named_as_its_folder(folder: str, named: tuple[str, str, str]) -> None:
    assert names_of(folder) == named


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--pack", "1st"], b"does not name a pack"),
        (["--pack", "w\xe4rter"], b"does not name a pack"),
        (["--pack", "a b"], b"does not name a pack"),
        (["--pack", "x" * 60], b"does not name a pack"),
        (["--pack", "class"], b"does not name a pack"),
        (["--pack", "wattproof"], b"built-in rules"),
        (["--pack", "wattproof-rules"], b"built-in rules"),
        (["--pack", "held"], b"is not empty"),
        (["--pack", "held/file"], b"is there already"),
        (["--pack", "held/file/deeper"], b"cannot be written"),
        (["--pack", "one", "other.yaml"], b"give it alone"),
        (["--pack", "one", "--modules", "3"], b"give it alone"),
    ],
)
def test_calls_that_cannot_be_followed(tmp_path: Path, arguments: list[str], said: bytes) -> None:
    held = tmp_path / "held"
    held.mkdir()
    (held / "file").write_text("kept", encoding="utf-8")
    done = call("new", *arguments, cwd=tmp_path)
    assert done.returncode == 2
    assert said in done.stderr
    assert [p.name for p in tmp_path.rglob("*")] == ["held", "file"]


def test_an_empty_folder_that_is_there_will_do(tmp_path: Path) -> None:
    (tmp_path / "birch").mkdir()
    assert call("new", "--pack", str(tmp_path / "birch")).returncode == 0
