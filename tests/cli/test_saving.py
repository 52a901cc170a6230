"""Saved documents: never over what somebody wrote, and whole or not at all."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from cli.calls import SOUND, SOURCES, call, folder
from plans import edited
from wattproof.cli.errors import CallUnusable
from wattproof.cli.output import save_document

COMMANDS = [
    ("report", "-o"),
    ("schedule", "-o"),
    ("diagram", "-o"),
    ("curve", "--csv"),
    ("curve", "--svg"),
]
PARTS = "wattproof: 1\ndatasheets:\n  cables:\n    spare: {size: 4 mm²}\n"
SETTINGS = "wattproof-settings: 1\nthreshold: note\n"


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A folder with a plan, its parts, its settings and another plan."""
    folder(
        tmp_path,
        plan=SOUND.replace("setting:", "parts: labels.yaml\nsetting:", 1),
        labels=PARTS,
        other=SOUND,
    )
    (tmp_path / "wattproof-settings.yaml").write_text(SETTINGS, encoding="utf-8")
    os.link(tmp_path / "plan.yaml", tmp_path / "hard-link.yaml")
    (tmp_path / "link.yaml").symlink_to("plan.yaml")
    (tmp_path / "no-name").write_text("{wattproof: 1, setting: boat}\n", encoding="utf-8")
    return tmp_path


TARGETS = [
    "plan.yaml",
    "hard-link.yaml",
    "link.yaml",
    "labels.yaml",
    "other.yaml",
    "no-name",
    "wattproof-settings.yaml",
]


@pytest.mark.parametrize(
    ("command", "target"),
    [
        *((COMMANDS[1], target) for target in TARGETS),
        *((command, target) for command in COMMANDS for target in TARGETS[1:4:2]),
    ],
)
def test_what_somebody_wrote_is_never_written_over(
    kept: Path, command: tuple[str, ...], target: str
) -> None:
    before = {p.name: p.read_bytes() for p in kept.iterdir()}
    name, *options = command
    done = call(name, "plan.yaml", *options, target, cwd=kept)
    assert done.returncode == 2, done.stdout
    assert "name another file" in done.stderr.decode()
    assert {p.name: p.read_bytes() for p in kept.iterdir()} == before


def test_nor_the_plan_that_standard_input_is_led_from(kept: Path) -> None:
    """Even where it looks like none."""
    before = (kept / "plan.yaml").read_bytes()
    with open(kept / "plan.yaml", "rb") as plan:
        done = subprocess.run(
            [sys.executable, "-m", "wattproof", "schedule", "-", "-o", "hard-link.yaml"],
            stdin=plan,
            cwd=kept,
            env={**os.environ, "PYTHONPATH": SOURCES},
            capture_output=True,
            check=False,
        )
    assert done.returncode == 2
    assert (kept / "plan.yaml").read_bytes() == before


def test_closed_standard_input(tmp_path: Path) -> None:
    command = f"exec {sys.executable} -m wattproof check - <&-"
    done = subprocess.run(
        ["sh", "-c", command],
        env={**os.environ, "PYTHONPATH": SOURCES},
        capture_output=True,
        check=False,
    )
    assert done.returncode == 2
    assert b"standard input is closed" in done.stdout
    assert b"Traceback" not in done.stderr


def test_an_older_document_is_replaced_whole_and_keeps_its_mode(tmp_path: Path) -> None:
    target = tmp_path / "page.html"
    target.write_text("<p>old</p>", encoding="utf-8")
    target.chmod(0o640)
    save_document(str(target), "new")
    assert target.read_text(encoding="utf-8") == "new"
    assert stat.S_IMODE(target.stat().st_mode) == 0o640
    assert [p.name for p in tmp_path.iterdir()] == ["page.html"]


def test_a_link_to_a_document_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "page.html").write_text("old", encoding="utf-8")
    (tmp_path / "link.html").symlink_to("page.html")
    save_document(str(tmp_path / "link.html"), "new")
    assert (tmp_path / "link.html").is_symlink()
    assert (tmp_path / "page.html").read_text(encoding="utf-8") == "new"


def test_the_old_one_stays_where_the_new_one_cannot_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on a full disk."""
    target = tmp_path / "page.html"
    target.write_text("old", encoding="utf-8")

    def full(*arguments: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    with pytest.raises(CallUnusable, match="No space left"):
        save_document(str(target), "new")
    assert target.read_text(encoding="utf-8") == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["page.html"]


def test_what_is_no_file_is_written_to() -> None:
    save_document(os.devnull, "new")
    assert not stat.S_ISREG(os.stat(os.devnull).st_mode)


class TestParts:
    def problems(self, tmp_path: Path, parts: str) -> str:
        plan = edited(("site:\n", f"parts: {parts}\nsite:\n"))
        folder(tmp_path, plan=plan, labels=PARTS)
        done = call("check", str(tmp_path / "plan.yaml"))
        assert done.returncode == 2, done.stdout
        return " ".join(done.stdout.decode().split())

    def test_each_file_is_named_once(self, tmp_path: Path) -> None:
        words = self.problems(tmp_path, "[labels.yaml, ./labels.yaml]")
        assert "`./labels.yaml` is the file that `labels.yaml` names on line 4" in words

    def test_their_number_is_bounded(self, tmp_path: Path) -> None:
        names = ", ".join(["labels.yaml"] * 1300)
        assert "names 1300 files, and at most 100 are read" in self.problems(tmp_path, f"[{names}]")

    def test_their_size_is_bounded(self, tmp_path: Path) -> None:
        filler = "# " + "x" * 900_000 + "\n"
        for number in range(6):
            text = PARTS.replace("spare", f"spare-{number}") + filler
            (tmp_path / f"l{number}.yaml").write_text(text, encoding="utf-8")
        words = self.problems(tmp_path, "[l0.yaml, l1.yaml, l2.yaml, l3.yaml, l4.yaml, l5.yaml]")
        assert "hold more than 4,000,000 characters" in words

    def test_too_many_names_in_them_end_the_reading(self, tmp_path: Path) -> None:
        for number in range(4):
            names = "".join(f"    s{number}x{i}: {{size: 4 mm²}}\n" for i in range(4_000))
            text = f"wattproof: 1\ndatasheets:\n  cables:\n{names}"
            (tmp_path / f"l{number}.yaml").write_text(text, encoding="utf-8")
        words = self.problems(tmp_path, "[l0.yaml, l1.yaml, l2.yaml, l3.yaml]")
        assert "more than 10,000" in words

    def test_a_name_with_a_sign_that_no_file_has(self, tmp_path: Path) -> None:
        assert "the character U+0000 is not allowed" in self.problems(tmp_path, '["a\\0b"]')


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("  house: {", '  "house\\n": {', "is not a name"),
        ("to: house", 'to: "house\\n"', "does not name a component"),
        ("series: 3", 'series: "3\\n"', "not a whole number"),
        ("series: 3", 'arrangement: "3s\\n"', "not an arrangement"),
    ],
)
def test_a_line_end_in_a_value_is_seen(tmp_path: Path, old: str, new: str, words: str) -> None:
    folder(tmp_path, plan=edited((old, new)))
    done = call("check", str(tmp_path / "plan.yaml"))
    assert done.returncode == 2, done.stdout
    assert words in " ".join(done.stdout.decode().split())


class TestBeside:
    """What is sent nowhere goes beside the plan, and says so."""

    @pytest.mark.parametrize(
        ("arguments", "name"),
        [
            (("report",), "plan.html"),
            (("report", "--print", "bench"), "plan-bench.html"),
            (("diagram",), "plan.svg"),
        ],
    )
    def test_a_file_by_the_name_of_the_plan(
        self, kept: Path, arguments: tuple[str, ...], name: str
    ) -> None:
        (kept / "below").mkdir()
        for _ in range(2):  # its own file is written anew
            done = call(*arguments, "../plan.yaml", cwd=kept / "below")
            assert (done.returncode, done.stdout) == (0, b"")
            assert done.stderr.decode() == f"written to {Path('..') / name}\n"
        assert (kept / name).stat().st_size > 1000

    def test_not_over_a_file_of_something_else(self, kept: Path) -> None:
        (kept / "plan.svg").write_text("<svg>a drawing of my own</svg>", encoding="utf-8")
        done = call("diagram", "plan.yaml", cwd=kept)
        assert done.returncode == 2
        assert b"plan.svg is there already" in done.stderr
        assert (kept / "plan.svg").read_text(encoding="utf-8").endswith("my own</svg>")

    def test_a_plan_from_standard_input_goes_to_standard_output(self) -> None:
        done = call("diagram", "-", stdin=SOUND.encode())
        assert done.stdout.startswith(b"<svg")
        assert done.stderr == b""
