"""Which files of a folder are plans: none that may be one is passed over in silence."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from cli.calls import FAULTY, SOUND, call, folder
from wattproof.cli import main as program

HEADLESS = SOUND.replace("wattproof: 1\n", "")


def checked(at: Path, *arguments: str) -> tuple[int, list[str]]:
    """The status, and the files that were checked."""
    done = call("check", *(arguments or (".",)), "--format", "json", cwd=at)
    plans = json.loads(done.stdout)["plans"] if done.stdout else []
    return done.returncode, [Path(plan["file"]).as_posix() for plan in plans]


@pytest.mark.parametrize(
    "text",
    [
        HEADLESS,
        "watproof: 1\n" + HEADLESS,
        "Wattproof: 1\n" + HEADLESS,
        SOUND.replace("wattproof: 1", "wattproof: 7"),
        "# nothing before it\n" + HEADLESS,
        "{setting: vehicle, strings: {}, batteries: {}, wires: {}}\n",
        "watproof: 1\nsetting: boat\n",
        "WATTPROOF: 1\nsetting: boat\n",
        "".join(f"  {line}\n" for line in HEADLESS.splitlines()),
        HEADLESS.replace("\n", "\r"),
        HEADLESS.replace("\n", "\r\n"),
        "%YAML 1.2\n---\n" + HEADLESS,
        "--- # the van\n" + HEADLESS,
        "--- {watproof: 1, setting: boat}\n",
        "# the van\n\n{watproof: 1, setting: boat}\n",
        "? watproof\n: 1\n? setting\n: boat\n",
        "&a watproof: 1\n!!str setting: boat\n",
        "\ufeff# the van\n" + HEADLESS,
    ],
)
def test_a_plan_whose_first_key_is_wrong_is_told(tmp_path: Path, text: str) -> None:
    folder(tmp_path, sound=SOUND, wrong=text)
    assert checked(tmp_path) == (2, ["sound.yaml", "wrong.yaml"])


@pytest.mark.parametrize(
    "text",
    [
        "".join(f"    {line}\n" for line in SOUND.splitlines()),
        SOUND.replace("\n", "\r"),
        "# the van\n--- # it\n" + SOUND,
        "? wattproof\n: 1\n" + HEADLESS,
    ],
)
def test_a_plan_is_one_however_it_is_written(tmp_path: Path, text: str) -> None:
    """It is checked with the others, whatever comes of it."""
    folder(tmp_path, a=text, sound=SOUND)
    assert checked(tmp_path)[1] == ["a.yaml", "sound.yaml"]


def test_folders_elsewhere_are_named_and_folders_that_cannot_be_read_end_the_call(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    inner = folder(tmp_path / "plans", sound=SOUND)
    folder(tmp_path / "elsewhere", faulty=FAULTY)
    (inner / "more").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    (inner / "again").symlink_to(inner, target_is_directory=True)
    (inner / "deep").mkdir()
    (inner / "deep" / "up").symlink_to(inner / "deep", target_is_directory=True)
    done = call("check", "plans", cwd=tmp_path)
    assert done.returncode == 0
    said = done.stderr.decode()
    assert "plans/more leads to another folder, which was not searched" in said
    assert "deep" not in said

    def walk(top: str, onerror: Callable[[OSError], None]) -> Iterator[Any]:
        onerror(PermissionError(13, "Permission denied", f"{top}/deep"))
        yield from ()

    monkeypatch.setattr("wattproof.cli.folder_search.os.walk", walk)
    monkeypatch.chdir(tmp_path)
    assert program.run(["check", "plans"]) == 2
    assert "plans/deep cannot be searched: Permission denied" in capfd.readouterr().err


@pytest.mark.parametrize(
    "text",
    [
        "services: {}\nnetworks: {}\n",
        "name: build\non: push\njobs: {}\n",
        "title: x\n",
        "wires: [1, 2]\nname: a\nversion: 2\nauthor: b\n",
        "- wattproof: 1\n",
        "datasheets: {}\n",
        "",
    ],
)
def test_a_file_of_another_program_is_passed_over(tmp_path: Path, text: str) -> None:
    folder(tmp_path, sound=SOUND, other=text)
    assert checked(tmp_path) == (0, ["sound.yaml"])


def test_endings_in_capitals_count(tmp_path: Path) -> None:
    folder(tmp_path, sound=SOUND)
    (tmp_path / "faulty.YAML").write_text(FAULTY, encoding="utf-8")
    (tmp_path / "other.Yml").write_text(SOUND, encoding="utf-8")
    assert checked(tmp_path) == (1, ["faulty.YAML", "other.Yml", "sound.yaml"])


@pytest.mark.skipif(shutil.which("git") is None, reason="needs git")
def test_what_version_control_ignores_is_not_searched_unless_it_is_kept(tmp_path: Path) -> None:
    folder(tmp_path, sound=SOUND, build__copy=FAULTY, kept__plan=FAULTY, drafts__one=FAULTY)
    (tmp_path / ".gitignore").write_text("build/\nkept/\n", encoding="utf-8")
    (tmp_path / "drafts" / ".gitignore").write_text("*.yaml\n", encoding="utf-8")
    for arguments in (["init", "-q"], ["add", "-f", "kept/plan.yaml"]):
        subprocess.run(["git", *arguments], cwd=tmp_path, check=True)
    assert checked(tmp_path) == (1, ["kept/plan.yaml", "sound.yaml"])
    assert checked(tmp_path, "drafts/one.yaml") == (1, ["drafts/one.yaml"])


class TestExclude:
    def _set(self, at: Path, *patterns: str) -> None:
        text = f"wattproof-settings: 1\nexclude: {json.dumps(patterns)}\n"
        (at / "wattproof-settings.yaml").write_text(text, encoding="utf-8")

    @pytest.mark.parametrize(
        "pattern", ["drafts", "./drafts/", "drafts/*", "d*", "drafts/one.yaml"]
    )
    def test_settings_leave_plans_out(self, tmp_path: Path, pattern: str) -> None:
        folder(tmp_path, sound=SOUND, drafts__one=FAULTY)
        self._set(tmp_path, pattern)
        done = call("check", ".", cwd=tmp_path)
        assert done.returncode == 0
        assert b"1 plan left out by `exclude` in the settings" in done.stderr
        assert checked(tmp_path, "drafts/one.yaml") == (1, ["drafts/one.yaml"])

    def test_where_none_is_left_the_call_is_unusable(self, tmp_path: Path) -> None:
        folder(tmp_path, drafts__one=FAULTY)
        self._set(tmp_path, "drafts")
        done = call("check", ".", cwd=tmp_path)
        assert done.returncode == 2
        assert b"no other is there" in done.stderr

    def test_bad_settings_leave_nothing_out(self, tmp_path: Path) -> None:
        folder(tmp_path, sound=SOUND)
        text = "wattproof-settings: 1\nexclude: {a: b}\n"
        (tmp_path / "wattproof-settings.yaml").write_text(text, encoding="utf-8")
        assert checked(tmp_path) == (2, ["sound.yaml"])


def test_among_others_passes_over_named_files_that_are_no_plans(tmp_path: Path) -> None:
    folder(tmp_path, sound=SOUND, other="services: {}\n", wrong=HEADLESS)
    assert checked(tmp_path, "--among-others", "other.yaml", "sound.yaml") == (0, ["sound.yaml"])
    assert checked(tmp_path, "--among-others", "wrong.yaml") == (2, ["wrong.yaml"])
    assert call("check", "--among-others", "other.yaml", cwd=tmp_path).returncode == 0
    assert call("check", "other.yaml", cwd=tmp_path).returncode == 2
