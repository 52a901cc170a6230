"""wattproof report as called: a page of one plan, Markdown of any number, the status of a check."""

from __future__ import annotations

from pathlib import Path

import pytest

from cli.calls import FAULTY, ROOT, SOUND, UNUSABLE, call, failing_pack, folder


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    return folder(
        tmp_path, sound=SOUND, faulty=FAULTY, unusable=UNUSABLE, all__one=SOUND, all__two=FAULTY
    )


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        (["sound.yaml"], 0),
        (["sound.yaml", "-o", "page.html"], 0),
        (["faulty.yaml", "-o", "page.html"], 1),
        (["faulty.yaml", "--format", "markdown"], 1),
        (["all", "--format", "markdown"], 1),
        (["sound.yaml", "all/one.yaml", "--format", "markdown"], 0),
        (["unusable.yaml", "-o", "page.html"], 2),
        (["unusable.yaml", "--format", "markdown"], 2),
        (["missing.yaml"], 2),
        (["all"], 2),
        (["sound.yaml", "all/one.yaml"], 2),
        ([], 2),
        (["sound.yaml", "--format", "pdf"], 2),
        (["faulty.yaml", "--print", "bench"], 1),
        (["sound.yaml", "--print", "full"], 0),
        (["sound.yaml", "--print", "bench", "--format", "markdown"], 2),
        (["unusable.yaml", "--print", "bench"], 2),
        (["sound.yaml", "--name", "x.yaml"], 2),
        (["sound.yaml", "-o", "./sound.yaml"], 2),
        (["sound.yaml", "-o", "no/such/folder/page.html"], 2),
        (["sound.yaml", "--settings", "missing.yaml"], 2),
    ],
)
def test_exit_status(plans: Path, arguments: list[str], status: int) -> None:
    done = call("report", *arguments, cwd=plans)
    assert done.returncode == status, done.stderr
    assert b"Traceback" not in done.stderr
    assert (plans / "sound.yaml").read_text(encoding="utf-8") == SOUND


def test_the_page_goes_where_it_is_sent(plans: Path) -> None:
    shown = call("report", "faulty.yaml", "-o", "-", cwd=plans)
    call("report", "faulty.yaml", "-o", "page.html", cwd=plans)
    assert (plans / "page.html").read_bytes() == shown.stdout
    assert shown.stdout.startswith(b"<!DOCTYPE html>")
    assert shown.stderr == b""


def test_a_plan_that_cannot_be_read_has_a_page_that_says_so(plans: Path) -> None:
    done = call("report", "missing.yaml", "-o", "-", cwd=plans)
    assert done.returncode == 2
    assert b"This plan cannot be checked as it is" in done.stdout


def test_parts_files_are_shown_line_by_line(tmp_path: Path) -> None:
    done = call("report", str(ROOT / "examples" / "van-six-modules.yaml"), "-o", "-", cwd=tmp_path)
    text = done.stdout.decode()
    labels = (ROOT / "examples" / "parts" / "heron-labels.yaml").read_text(encoding="utf-8")
    assert labels.splitlines()[0] in text
    assert 'id="file-2-line-1"' in text


def test_standard_input_has_the_name_given(plans: Path) -> None:
    done = call(
        "report", "-", "-o", "-", "--name", "here/van.yaml", stdin=SOUND.encode(), cwd=plans
    )
    assert done.returncode == 0
    assert b"here/van.yaml" in done.stdout


def test_markdown_tells_every_plan(plans: Path) -> None:
    done = call("report", "all", "--format", "markdown", cwd=plans)
    text = done.stdout.decode()
    assert text.count("\n## ") + text.startswith("## ") == 2
    assert "all/one.yaml" in text
    assert "cold-voltage-over-controller" in text


def test_settings_hold_for_pages_too(plans: Path) -> None:
    off = "{off: true, reason: the loss is known}"
    settings = f"wattproof-settings: 1\nrules:\n  voltage-drop-high: {off}\n"
    (plans / "wattproof-settings.yaml").write_text(settings, encoding="utf-8")
    done = call("report", "sound.yaml", "-o", "-", "--format", "markdown", cwd=plans)
    assert b"1 off by settings" in done.stdout


def test_a_failed_rule_gives_status_3_and_a_page_without_a_verdict(
    plans: Path, tmp_path: Path
) -> None:
    pack = failing_pack(tmp_path / "pack", "raise RuntimeError('gone')\n")
    done = call("report", "sound.yaml", "-o", "-", cwd=plans, packs=pack)
    assert done.returncode == 3
    assert b"a part of the check failed" in done.stdout
