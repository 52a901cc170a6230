"""wattproof choose: shown as a difference, written where it is asked for."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from choosing.opened import plans
from wattproof.cli.app import build_app

TEXT = dict(plans(10))["1-boat-iso-13297"]


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "plan.yaml"
    path.write_text(TEXT, encoding="utf-8")
    return path


def choose(*arguments: object) -> Result:
    return CliRunner().invoke(build_app(), ["choose", *map(str, arguments)])


def test_it_is_shown_and_then_written_and_passes(plan: Path) -> None:
    run = choose(plan)
    assert run.exit_code == 0, run.stdout
    assert "+++ " in run.stdout
    assert "`--write` writes it" in run.stdout
    assert plan.read_text(encoding="utf-8") == TEXT
    assert choose(plan, "--write").exit_code == 0
    text = plan.read_text(encoding="utf-8")
    assert "feeds:" not in text
    assert "wires:" in text
    check = CliRunner().invoke(build_app(), ["check", str(plan)])
    assert check.exit_code == 0, check.stdout
    again = choose(plan, "--write")
    assert "leaves nothing open" in " ".join(again.stdout.split())
    assert plan.read_text(encoding="utf-8") == text


def test_working_and_a_copy(plan: Path) -> None:
    copy = plan.with_name("chosen.yaml")
    run = choose(plan, "--working", "--layout", "2s2p", "-o", copy)
    assert run.exit_code in (0, 1), run.stdout
    assert "arrangement: 2s2p" in copy.read_text(encoding="utf-8")
    assert plan.read_text(encoding="utf-8") == TEXT


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--layout", "two"), "is not an arrangement"),
        (("--layout", "900s900p"), "more than 1000"),
        (("--layout", "7s"), "does not fit"),
        (("--write", "-o", "x.yaml"), "give one of them"),
    ],
)
def test_a_call_that_cannot_be_meant(plan: Path, arguments: tuple[str, ...], said: str) -> None:
    assert said in str(choose(plan, *arguments).exception)


def test_an_unusable_plan(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text("wattproof: 1\n", encoding="utf-8")
    assert choose(path).exit_code == 2
