"""wattproof expect: the sheet in its forms, and readings asked one by one."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from plans import edited
from wattproof.cli.app import build_app
from wattproof.plan import load_plan

SKY = ("--sun", "850 W/m²", "--air", "25 °C")


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "plan.yaml"
    path.write_text("# mine\n" + edited(), encoding="utf-8")
    return path


def expect(*arguments: object, answers: str = "") -> Result:
    return CliRunner().invoke(build_app(), ["expect", *map(str, arguments)], input=answers)


def words(run: Result) -> str:
    return " ".join(run.stdout.split())


def test_the_sheet_is_narrow_and_has_a_box_for_each_value(plan: Path) -> None:
    run = expect(plan, *SKY)
    assert run.exit_code == 0, run.stdout
    assert all(len(x) <= 80 for x in run.stdout.splitlines() if not x.startswith("Plan"))
    assert run.stdout.count("[            ]") >= 6
    assert "850 W/m² in the plane of the modules, air of 25 °C" in words(run)
    assert "DANGER" in run.stdout
    assert "`roof-string` open-circuit voltage: " in words(run)
    assert re.search(r"finds a loss of \d+ %; surely of \d+ %", words(run))
    assert "licensed electrician" in words(run)


def test_without_a_sky_it_has_tables(plan: Path) -> None:
    run = expect(plan)
    assert "cells 25 °C" in run.stdout
    assert "700 W/m²" in run.stdout
    assert "see the table" in run.stdout


def test_markdown_and_page(plan: Path) -> None:
    run = expect(plan, *SKY, "--format", "markdown")
    assert "| where | what | right | likely | shown |" in run.stdout
    page = plan.with_name("sheet.html")
    assert expect(plan, *SKY, "--format", "html", "-o", page).exit_code == 0
    text = page.read_text(encoding="utf-8")
    assert text.startswith("<!doctype html>")
    assert "Content-Security-Policy" in text
    assert text.count('<td class="box">') >= 6


def test_a_page_shows_signs_of_a_plan_and_runs_none(plan: Path) -> None:
    text = plan.read_text(encoding="utf-8")
    title = 'title: "<script>alert(1)</script> & more"\n'
    plan.write_text(text.replace("setting:", title + "setting:", 1), encoding="utf-8")
    run = expect(plan, *SKY, "--format", "html")
    assert "<script>" not in run.stdout
    assert "&lt;script&gt;" in run.stdout
    assert "<script>" not in expect(plan, *SKY, "--format", "markdown").stdout


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--sun", "850 W/m²"), "goes with --air or --cells"),
        (("--air", "25 °C"), "go with --sun"),
        (("--sun", "850 W/m²", "--air", "25 °C", "--cells", "50 °C"), "give one of them"),
        (("--sun", "850", "--air", "25 °C"), "--sun:"),
        (("--sun", "8500 W/m²", "--air", "25 °C"), "--sun:"),
        (("--sun", "850 W/m²", "--air", "95 °C"), "--air:"),
        (("--write",), "--write goes with --readings"),
        (("--readings", "--format", "html"), "leave --format out"),
    ],
)
def test_a_call_that_cannot_be_meant(plan: Path, arguments: tuple[str, ...], said: str) -> None:
    assert said in str(expect(plan, *arguments).exception)


ANSWERS = "2026-06-21 12:40, clear\n48\n\n"  # taken, back, the battery at rest left out


def test_readings_are_asked_judged_and_shown(plan: Path) -> None:
    before = plan.read_bytes()
    run = expect(plan, *SKY, "--readings", answers=ANSWERS + "67.1\n5,1\n4.4 A\n")
    assert run.exit_code == 0, run.stdout
    assert "What the meter showed" in run.stdout
    assert "+  roof-string-open: {at: roof-string, taken: '2026-06-21 12:40, clear'" in run.stdout
    assert "voc: 67.1 V, isc: 4.4 A" in words(run).replace("+ ", "")
    assert "decimal comma" in run.stdout  # asked again
    assert "every value that could be compared is in its band" in words(run)
    assert plan.read_bytes() == before


def test_readings_are_written_and_read_back(plan: Path) -> None:
    before = plan.read_text(encoding="utf-8")
    run = expect(plan, *SKY, "--readings", "--write", answers=ANSWERS + "52.0 V\n")
    assert run.exit_code == 1, run.stdout
    assert "They say" in run.stdout
    after = plan.read_text(encoding="utf-8")
    assert after.startswith(before)
    [reading] = load_plan(str(plan)).readings.values()
    assert (reading.at_terminal, reading.voc and reading.voc.text) == ("roof-string", "52.0 V")
    assert reading.irradiance is not None
    assert reading.irradiance.value == 850.0
    again = expect(plan, *SKY, "--readings", "--write", answers=ANSWERS + "67.0 V\n")
    assert again.exit_code == 1
    assert set(load_plan(str(plan)).readings) == {"roof-string-open", "roof-string-open-2"}


def test_nothing_read_is_nothing_written(plan: Path) -> None:
    before = plan.read_bytes()
    run = expect(plan, *SKY, "--readings", "--write", answers="\n\n\n\n")
    assert run.exit_code == 0
    assert "Nothing was read" in run.stdout
    assert plan.read_bytes() == before


def test_readings_of_charge_and_operation(plan: Path) -> None:
    answers = ANSWERS + "67.1\n\n67.0\n52.1 V\n9.0 A\n52.4 V\n14.1 V\n"
    run = expect(plan, *SKY, "--readings", "--write", answers=answers)
    assert run.exit_code in (0, 1), run.stdout
    found = load_plan(str(plan)).readings
    assert set(found) == {
        "roof-string-open",
        "tracker-pv-open",
        "tracker-pv-run",
        "roof-string-run",
        "house-charge",
    }
    assert found["roof-string-run"].taken == found["tracker-pv-run"].taken
    assert found["tracker-pv-run"].current is not None
    assert found["house-charge"].irradiance is None
