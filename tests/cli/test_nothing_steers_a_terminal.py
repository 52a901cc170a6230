"""Words of plans, names of files and options reach no terminal as they are."""

from __future__ import annotations

import json
import unicodedata
from pathlib import Path

import pytest

from cli.calls import SOUND, call, folder

STEERING = "\x1b[31mred\u202e\u2066x\u200f"
IN_YAML = '"\\e[31mred\\u202e\\u2066x\\u200f"'
UNUSABLE = f"{SOUND}\n{IN_YAML}: 3\n"
TITLED = f"title: {IN_YAML}\n{SOUND}"


def steers(written: bytes) -> list[str]:
    """What in an output would steer a terminal or hide itself on one."""
    text = written.decode("utf-8", "surrogateescape")
    return [c for c in text if c != "\n" and unicodedata.category(c) in ("Cc", "Cf", "Cs")]


@pytest.mark.parametrize("command", ["diagram", "schedule", "curve", "figures", "questions"])
def test_a_plan_that_cannot_be_used(tmp_path: Path, command: str) -> None:
    folder(tmp_path, plan=UNUSABLE)
    done = call(command, "plan.yaml", cwd=tmp_path)
    assert done.returncode == 2
    assert done.stdout + done.stderr
    assert not steers(done.stdout + done.stderr)


@pytest.mark.parametrize("arguments", [
    ("diagram", f"{STEERING}.yaml"),
    ("check", "plan.yaml", "--format", STEERING),
    ("check", "plan.yaml", f"--{STEERING}"),
    ("check", "plan.yaml", "--option", f"{STEERING}=3"),
    (STEERING,),
    ("diagram", "plan.yaml", STEERING),
])  # fmt: skip
def test_a_name_of_a_file_or_an_option(tmp_path: Path, arguments: tuple[str, ...]) -> None:
    folder(tmp_path, plan=SOUND)
    done = call(*arguments, cwd=tmp_path, FORCE_COLOR="1")
    assert done.returncode == 2
    assert done.stderr
    assert not steers(done.stderr)


@pytest.mark.parametrize("format", ["text", "short", "markdown", "json", "sarif", "annotations"])
@pytest.mark.parametrize("plan", [UNUSABLE, TITLED], ids=["unusable", "titled"])
def test_each_format_of_a_check(tmp_path: Path, format: str, plan: str) -> None:
    folder(tmp_path, plan=plan)
    done = call("check", "plan.yaml", "--format", format, cwd=tmp_path)
    assert done.returncode == 2
    assert not steers(done.stdout + done.stderr)


def test_json_escapes_the_name_of_a_file_and_holds_it_whole(tmp_path: Path) -> None:
    (tmp_path / f"{STEERING}.yaml").write_text(SOUND, encoding="utf-8")
    done = call("check", f"{STEERING}.yaml", "--format", "json", cwd=tmp_path)
    assert not steers(done.stdout)
    assert json.loads(done.stdout)["plans"][0]["file"] == f"{STEERING}.yaml"


def test_a_name_that_ends_in_a_line_break_is_none(tmp_path: Path) -> None:
    folder(tmp_path, plan=SOUND.replace("  tracker:", '  "tracker\\n":'))
    done = call("check", "plan.yaml", cwd=tmp_path)
    assert done.returncode == 2
    assert b"is not a name" in done.stdout
