"""wattproof diagram as called: exit status, where the picture goes, hostile calls."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest

from cli.calls import FAULTY, ROOT, SOUND, UNUSABLE, call, failing_pack, folder, heavy_loaded

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    return folder(tmp_path, sound=SOUND, faulty=FAULTY, unusable=UNUSABLE)


def texts(svg: bytes) -> list[str]:
    return ["".join(node.itertext()) for node in ElementTree.fromstring(svg).iter(f"{SVG}text")]


@pytest.mark.parametrize(
    ("arguments", "status"),
    [
        (["sound.yaml"], 0),
        (["sound.yaml", "-o", "a.svg"], 0),
        (["sound.yaml", "--output", "-", "--state", "bright"], 0),
        (["faulty.yaml"], 0),
        (["faulty.yaml", "--no-findings"], 0),
        (["unusable.yaml"], 2),
        (["unusable.yaml", "-o", "a.svg"], 2),
        (["missing.yaml"], 2),
        ([], 2),
        (["."], 2),
        (["sound.yaml", "sound.yaml"], 2),
        (["sound.yaml", "--state", "noon"], 2),
        (["sound.yaml", "--name", "x.yaml"], 2),
        (["sound.yaml", "-o", "./sound.yaml"], 2),
        (["sound.yaml", "-o", "no/such/folder/a.svg"], 2),
        (["sound.yaml", "-o", "."], 2),
    ],
)
def test_exit_status(plans: Path, arguments: list[str], status: int) -> None:
    done = call("diagram", *arguments, cwd=plans)
    assert done.returncode == status, done.stderr
    assert b"Traceback" not in done.stderr
    assert (plans / "sound.yaml").read_text(encoding="utf-8") == SOUND


def test_the_file_holds_what_standard_output_would(plans: Path) -> None:
    done = call("diagram", "sound.yaml", "-o", "a.svg", cwd=plans)
    assert done.stdout == b""
    picture = (plans / "a.svg").read_bytes()
    assert picture == call("diagram", "sound.yaml", "-o", "-", cwd=plans).stdout
    assert ElementTree.fromstring(picture).attrib["role"] == "img"


def test_findings_have_the_numbers_of_the_report(plans: Path) -> None:
    report = call("check", "faulty.yaml", cwd=plans).stdout.decode()
    assert " 1. " in report
    shown = texts(call("diagram", "faulty.yaml", "-o", "-", cwd=plans).stdout)
    assert any(text.startswith("error 1") for text in shown)
    without = texts(call("diagram", "faulty.yaml", "-o", "-", "--no-findings", cwd=plans).stdout)
    assert not any(text.startswith("error") for text in without)


def test_problems_go_to_the_error_output_and_nothing_is_saved(plans: Path) -> None:
    done = call("diagram", "unusable.yaml", "-o", "a.svg", cwd=plans)
    assert done.stdout == b""
    assert b"unusable.yaml:3:" in done.stderr
    assert not (plans / "a.svg").exists()


def test_a_rule_that_fails_is_said_and_the_rest_is_drawn(plans: Path, tmp_path: Path) -> None:
    pack = failing_pack(tmp_path / "packs", "raise RuntimeError('broken')\n")
    done = call("diagram", "sound.yaml", "-o", "a.svg", cwd=plans, packs=pack)
    assert done.returncode == 3
    assert b"marks may be missing" in done.stderr
    assert (plans / "a.svg").exists()


def test_standard_input_with_a_name() -> None:
    done = call("diagram", "-", "-o", "-", "--name", "below/plan.yaml", stdin=SOUND.encode())
    assert done.returncode == 0
    assert "home-run" in texts(done.stdout)


def test_the_picture_is_utf_8_and_the_same_under_two_hash_seeds() -> None:
    example = str(ROOT / "examples" / "van-six-modules.yaml")
    first, second = (
        call("diagram", example, "-o", "-", PYTHONHASHSEED=seed, PYTHONIOENCODING="ascii").stdout
        for seed in ("0", "4242")
    )
    assert first == second
    assert "3 × rigid-200 in series" in texts(first)


def test_diagram_loads_nothing_heavy(plans: Path) -> None:
    assert heavy_loaded("diagram", "sound.yaml", "-o", "a.svg", cwd=plans) == (0, [])


def test_marks_are_those_of_a_check_under_the_same_settings(tmp_path: Path) -> None:
    folder(tmp_path, long=SOUND.replace("length: 4 m", "length: 24 m"))
    off = "{off: true, reason: a long boat}"
    before = texts(call("diagram", "long.yaml", "-o", "-", cwd=tmp_path).stdout)
    (tmp_path / "wattproof-settings.yaml").write_text(
        f"wattproof-settings: 1\nrules:\n  wire-length-odd: {off}\n", encoding="utf-8"
    )
    after = texts(call("diagram", "long.yaml", "-o", "-", cwd=tmp_path).stdout)
    assert "note 1" in before
    assert "note 1" not in after


def test_settings_that_cannot_be_read_are_told_at_their_line(tmp_path: Path) -> None:
    folder(tmp_path, faulty=FAULTY)
    (tmp_path / "wattproof-settings.yaml").write_text(
        "wattproof-settings: 1\nrule: 3\n", encoding="utf-8"
    )
    done = call("diagram", "faulty.yaml", "-o", "-", cwd=tmp_path)
    assert done.returncode == 2
    assert b"wattproof-settings.yaml:2:1" in done.stderr
    assert call("diagram", "faulty.yaml", "-o", "-", "--no-findings", cwd=tmp_path).returncode == 0
