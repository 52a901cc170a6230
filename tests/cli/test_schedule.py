"""wattproof schedule as called: exit status, where it goes, hostile calls."""

from __future__ import annotations

import csv
import io
import os
from pathlib import Path

import pytest

from cli.calls import SOUND, UNUSABLE, call, folder, heavy_loaded


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    return folder(tmp_path, sound=SOUND, unusable=UNUSABLE)


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        (["sound.yaml"], 0),
        (["sound.yaml", "--format", "csv"], 0),
        (["sound.yaml", "--format", "markdown", "--table", "labels"], 0),
        (["sound.yaml", "--table", "parts", "-o", "parts.txt"], 0),
        (["sound.yaml", "--output", "-"], 0),
        (["unusable.yaml"], 2),
        (["unusable.yaml", "--format", "csv", "-o", "a.csv"], 2),
        (["missing.yaml"], 2),
        (["."], 2),
        ([], 2),
        (["sound.yaml", "sound.yaml"], 2),
        (["sound.yaml", "--name", "x.yaml"], 2),
        (["sound.yaml", "--table", "wires"], 2),
        (["sound.yaml", "--format", "html"], 2),
        (["sound.yaml", "-o", "./sound.yaml"], 2),
        (["sound.yaml", "-o", "no/such/folder/a.csv"], 2),
        (["sound.yaml", "-o", "."], 2),
    ],
)
def test_exit_status(plans: Path, arguments: list[str], status: int) -> None:
    done = call("schedule", *arguments, cwd=plans)
    assert done.returncode == status, done.stderr
    assert b"Traceback" not in done.stderr
    assert (plans / "sound.yaml").read_text(encoding="utf-8") == SOUND


@pytest.mark.parametrize("format", ["text", "csv", "markdown"])
def test_a_file_holds_what_is_shown_without_one(plans: Path, format: str) -> None:
    shown = call("schedule", "sound.yaml", "--format", format, cwd=plans)
    saved = call("schedule", "sound.yaml", "--format", format, "-o", "out", cwd=plans)
    assert saved.stdout == saved.stderr == b""
    assert (plans / "out").read_bytes() == shown.stdout
    assert shown.stdout.count(b"\r\n") == (shown.stdout.count(b"\n") if format == "csv" else 0)


def test_one_table_of_four(plans: Path) -> None:
    done = call("schedule", "sound.yaml", "--format", "csv", "--table", "devices", cwd=plans)
    rows = list(csv.DictReader(io.StringIO(done.stdout.decode(), newline="")))
    assert [row["name"] for row in rows] == ["charge-fuse", "pv-off"]
    assert rows[0]["interrupt rating (A)"] == "20000"
    assert rows[0]["distance (m)"] == "0.1"


def test_problems_do_not_mix_with_rows(plans: Path) -> None:
    done = call("schedule", "unusable.yaml", "--format", "csv", cwd=plans)
    assert done.stdout == b""
    assert b"unusable.yaml:3:" in done.stderr
    assert b"has no unit" in call("schedule", "unusable.yaml", cwd=plans).stdout
    saved = call("schedule", "unusable.yaml", "--format", "csv", "-o", "a.csv", cwd=plans)
    assert b"has no unit" in saved.stdout
    assert not (plans / "a.csv").exists()


def test_standard_input_with_a_name() -> None:
    done = call("schedule", "-", "--name", "below/plan.yaml", stdin=SOUND.encode())
    assert done.returncode == 0
    assert "Plan      below/plan.yaml" in done.stdout.decode()


@pytest.mark.parametrize("format", ["text", "csv", "markdown"])
def test_output_is_the_same_under_two_hash_seeds(plans: Path, format: str) -> None:
    first, second = (
        call("schedule", "sound.yaml", "--format", format, cwd=plans, PYTHONHASHSEED=seed).stdout
        for seed in ("0", "4242")
    )
    assert first == second


def test_documents_are_utf_8_whatever_the_terminal_is(plans: Path) -> None:
    done = call("schedule", "sound.yaml", "--format", "csv", cwd=plans, PYTHONIOENCODING="ascii")
    assert "insulation (°C)" in done.stdout.decode("utf-8")
    assert call("schedule", "sound.yaml", cwd=plans, PYTHONIOENCODING="ascii").returncode == 0


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs /dev/full")
def test_a_full_disk_is_said_in_one_line(plans: Path) -> None:
    done = call("schedule", "sound.yaml", "-o", "/dev/full", cwd=plans)
    assert done.returncode == 2
    assert done.stderr.startswith(b"wattproof: /dev/full cannot be written: ")
    assert done.stderr.count(b"\n") == 1


def test_schedule_loads_nothing_heavy(plans: Path) -> None:
    assert heavy_loaded("schedule", "sound.yaml", "-o", "a.txt", cwd=plans) == (0, [])
