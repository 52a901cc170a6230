"""Layouts on the page and in Markdown, where a plan leaves one open or they are asked for."""

from __future__ import annotations

from pathlib import Path

from cli.calls import call

PLAN = """\
wattproof: 1
title: "Four <b>modules</b>"
setting: vehicle
code: iec
site: {coldest: -10 °C}
datasheets:
  modules:
    panel: {voc: 22.4 V, isc: 9.8 A, vmp: 18.6 V, pmax: 170 W}
strings:
  roof: {module: panel, FORM, feeds: {to: tracker, length: 5 m}}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 50 A, feeds: house}
batteries:
  house: {chemistry: lithium-iron-phosphate, capacity: 200 Ah}
"""


def _page(tmp_path: Path, form: str, *more: str) -> str:
    (tmp_path / "plan.yaml").write_text(PLAN.replace("FORM", form), encoding="utf-8")
    done = call("report", "plan.yaml", "-o", "-", *more, cwd=tmp_path)
    assert done.returncode in (0, 1), done.stderr
    return done.stdout.decode()


def test_an_open_arrangement_brings_a_section_with_small_curves(tmp_path: Path) -> None:
    page = _page(tmp_path, "arrangement: open, count: 4")
    assert '<section id="layouts"' in page
    assert '<a href="#layouts">Layouts</a>' in page
    section = page[page.index('<section id="layouts"') :]
    section = section[: section.index("</section>")]
    assert "Power of the layouts against voltage" in section
    for name in ("2s2p", "2p2s", "4p", "4s"):
        assert name in section
    assert "A layout is a proposal" in section
    assert "Not chosen yet" in page


def test_a_chosen_one_has_it_when_asked_only(tmp_path: Path) -> None:
    assert 'id="layouts"' not in _page(tmp_path, "arrangement: 2s2p")
    asked = _page(tmp_path, "arrangement: 2s2p", "--layouts")
    assert 'id="layouts"' in asked
    assert "2p2s" in asked


def test_markdown_has_it_too(tmp_path: Path) -> None:
    made = _page(tmp_path, "arrangement: open, count: 4", "--format", "markdown")
    assert "### Layouts" in made
    assert "Take `2s2p`" in made
