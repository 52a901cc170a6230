"""wattproof mend: shown as a difference, written where it is asked for, refused where unfit."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from plans import EXAMPLES, edited
from wattproof.cli.app import build_app

FAULTY = (EXAMPLES / "faulty" / "van-cold-morning.yaml").read_text(encoding="utf-8")


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "plan.yaml"
    path.write_text(FAULTY, encoding="utf-8")
    return path


def mend(*arguments: object, **given: str) -> Result:
    return CliRunner().invoke(build_app(), ["mend", *map(str, arguments)], **given)  # type: ignore[arg-type]


def words(run: Result) -> str:
    return " ".join(run.stdout.split())


def test_a_difference_is_shown_and_nothing_written(plan: Path) -> None:
    run = mend(plan)
    assert run.exit_code == 0, run.stdout
    assert "-  roof-four: {module: rigid-100, series: 4," in run.stdout
    assert "+  roof-four: {module: rigid-100, arrangement: 2s2p," in run.stdout
    assert "`--write` writes it" in words(run)
    assert "never for the part that is there" in words(run)
    assert "licensed electrician" in words(run)
    assert plan.read_text(encoding="utf-8") == FAULTY


def test_it_is_written_and_checked_again(plan: Path) -> None:
    run = mend(plan, "--write")
    assert run.exit_code == 0
    assert "FAULTY on purpose" in plan.read_text(encoding="utf-8")
    again = CliRunner().invoke(build_app(), ["check", str(plan)])
    assert again.exit_code == 0, again.stdout
    before = plan.read_bytes()
    assert "nothing: no remedy" in words(mend(plan, "--write"))
    assert plan.read_bytes() == before


def test_a_copy_is_written_beside(plan: Path) -> None:
    copy = plan.with_name("mended.yaml")
    assert mend(plan, "-o", copy).exit_code == 0
    assert plan.read_text(encoding="utf-8") == FAULTY
    assert "2s2p" in copy.read_text(encoding="utf-8")


def test_one_finding_by_its_number_its_rule_or_its_component(plan: Path) -> None:
    for name in ("4", "cold-voltage-over-controller", "cold-voltage-over-controller:tracker"):
        run = mend(plan, name)
        assert run.exit_code == 1, run.stdout
        assert "Mended 1 finding" in words(run)
        assert "arrangement: 2s2p" in run.stdout
        assert "+switches" not in run.stdout


@pytest.mark.parametrize("name", ["99", "no-such-rule", "cold-voltage-over-controller:house"])
def test_a_finding_that_the_plan_does_not_have(plan: Path, name: str) -> None:
    run = mend(plan, name)
    assert run.exit_code != 0
    assert f"has no finding `{name}`" in str(run.exception)


def test_from_standard_input() -> None:
    run = mend("-", input=FAULTY)
    assert "--- standard-input" in run.stdout
    run = mend("-", "--write", input=FAULTY)
    assert "has no file to write into" in str(run.exception)


def test_what_may_not_be_written_is_refused_before_anything_is_computed(plan: Path) -> None:
    for arguments, why in (
        (("--write", "-o", "x.yaml"), "give one of them"),
        (("-o", "-"), "names a file here"),
        (("-o", plan), "not overwritten"),
    ):
        assert why in str(mend(plan, *arguments).exception), arguments
    os.chmod(plan, 0o444)
    assert "may only be read" in str(mend(plan, "--write").exception)
    os.chmod(plan, 0o644)
    link = plan.with_name("link.yaml")
    link.symlink_to(plan.name)
    assert "is a link to" in str(mend(link, "--write").exception)
    assert plan.read_text(encoding="utf-8") == FAULTY


def test_a_copy_elsewhere_would_not_find_its_parts(tmp_path: Path) -> None:
    (tmp_path / "labels.yaml").write_text(
        "wattproof: 1\ndatasheets: {cables: {spare: {size: 4 mm²}}}\n", encoding="utf-8"
    )
    path = tmp_path / "plan.yaml"
    path.write_text(FAULTY.replace("setting:", "parts: labels.yaml\nsetting:", 1), encoding="utf-8")
    (tmp_path / "away").mkdir()
    run = mend(path, "-o", tmp_path / "away" / "copy.yaml")
    assert "would not find the files of `parts`" in str(run.exception)
    assert mend(path, "-o", tmp_path / "copy.yaml").exit_code == 0


def test_an_unusable_plan(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text("wattproof: 1\n", encoding="utf-8")
    assert mend(path, "--write").exit_code == 2
    assert path.read_text(encoding="utf-8") == "wattproof: 1\n"


def test_what_is_refused_is_told_with_what_to_write_by_hand(tmp_path: Path) -> None:
    text = edited(("    batt-8: {size: 8 AWG", "    batt-8: &thick {size: 16 AWG"))
    text = text.replace("strings:\n", "    spare: *thick\nstrings:\n", 1)
    path = tmp_path / "plan.yaml"
    path.write_text(text, encoding="utf-8")
    shown = words(mend(path))
    assert "stands behind the anchor `&thick`" in shown
    assert "By hand write `size:" in shown
