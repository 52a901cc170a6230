"""wattproof questions: a sheet to take to the installation."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from plans import edited
from wattproof.cli.app import build_app

SILENT = edited(
    (
        "kind: pv, insulation_temperature: 90 °C, voltage: 600 V",
        "insulation_temperature: 90 °C",
    )
)


@pytest.mark.parametrize("form", ["text", "markdown"])
def test_a_sheet_says_what_where_and_what_hangs_on_it(tmp_path: Path, form: str) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(SILENT, encoding="utf-8")
    run = CliRunner().invoke(build_app(), ["questions", str(plan), "--format", form])
    assert run.exit_code == 0
    shown = " ".join(run.stdout.split())
    assert "[ ]" in shown
    assert "the voltage that `pv-10` is made for: decides fire" in shown
    assert "on the insulation, as 600 V" in shown
    assert "cold-voltage-over-device" in shown


def test_nothing_to_look_up(tmp_path: Path) -> None:
    plan = Path(__file__).parents[2] / "examples" / "van-two-modules.yaml"
    run = CliRunner().invoke(build_app(), ["questions", str(plan)])
    assert run.exit_code == 0
    assert "Nothing has to be looked up." in run.stdout


def test_an_unusable_plan(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text("wattproof: 1\n", encoding="utf-8")
    run = CliRunner().invoke(build_app(), ["questions", str(plan)])
    assert run.exit_code == 2
