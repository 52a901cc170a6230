"""Tables of the study in Markdown, folded away, and what was set in sight."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from found import found_in_whole
from plans import edited
from reports.pages import EXAMPLES, RULES
from wattproof.circuit import build_circuit
from wattproof.engine import check_file
from wattproof.plan import load_plan
from wattproof.reports.page import markdown_report
from wattproof.settings import Setting, Settings
from wattproof.study import Study
from wattproof.testing import A_DAY, study_of


def report_of(text: str, name: str = "plan.yaml") -> str:
    """The report on a plan given as text."""
    study = Study(build_circuit(load_plan(name, text=text)))
    result = found_in_whole(name, text)
    return markdown_report.render([markdown_report.with_tables(study, result)])


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_table_has_as_many_cells_in_each_row(path: Path) -> None:
    lines = report_of(path.read_text(encoding="utf-8"), str(path)).splitlines()
    for above, line in pairwise(lines):
        if line.startswith("| ") and above.startswith("| "):
            assert _bars(line) == _bars(above)
    assert lines.count("<details>") == lines.count("</details>") > 0


def _bars(line: str) -> int:
    return line.replace("\\|", "").count("|")


def test_tables_of_the_study_are_folded_away() -> None:
    [cabin] = [path for path in EXAMPLES if path.stem == "cabin-eight-modules"]
    text = report_of(cabin.read_text(encoding="utf-8"), str(cabin))
    for title in (
        "Where each array works",
        "A day in each period",
        "Days without sun",
        "Readings at arrays, beside their curves",
        "Readings of joints and charging",
    ):
        assert f"<summary>{title}</summary>\n\n| " in text


def test_what_was_set_is_in_sight() -> None:
    settings = Settings(off={"plug-polarity-unsure": Setting(True, None, "no *such* plugs")})
    result = check_file("p.yaml", RULES, today=A_DAY, text=edited(), settings=settings)
    text = markdown_report.render([markdown_report.with_tables(study_of(edited()), result)])
    assert "Set for this check:" in text.split("<details>")[0]
    assert "`plug-polarity-unsure` is off" in text
    assert "Reason: no \\*such\\* plugs." in text
