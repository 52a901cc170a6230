"""Sheets for the bench: all of the plan that is cut, joined and labelled, and the danger first."""

from __future__ import annotations

import hashlib
import re

import pytest

from reports.pages import EXAMPLES, HOSTILE_PLAN, page_at, page_text
from reports.test_page import Read
from wattproof.circuit import build_circuit
from wattproof.plan import load_plan
from wattproof.reports.page import Paper
from wattproof.reports.page.fingerprint import fingerprint
from wattproof.reports.page.sheets import ACROSS, LEAST_TYPE, UPRIGHT, pieces
from wattproof.study import Study
from wattproof.views.schedules import schedules_of

[VAN] = [path for path in EXAMPLES if path.stem == "van-six-modules"]
[FAULTY] = [path for path in EXAMPLES if path.stem == "van-cold-morning"]


def test_every_conductor_is_cut_and_every_piece_of_tape_counted() -> None:
    text = page_at(VAN, "bench")
    page = Read(text)
    cut = text[text.index('id="cut"') : text.index('id="order"')]
    for name in ("port-lead", "home-run", "bank-run", "lights-run"):
        assert f"<td>{name}</td>" in cut
    assert "8 AWG (8.37 mm²)" in cut
    assert "bank-fuse 175 A" in cut
    pieces_told = re.findall(r"(\d+) × <strong>", text[text.index('id="labels"') :])
    labels = schedules_of(Study(build_circuit(load_plan(str(VAN))))).labels
    assert sum(map(int, pieces_told)) == sum(label.pieces for label in labels) > 50
    assert page.tags["script"] == 0


def test_it_needs_no_other_place_and_has_no_link() -> None:
    for path in EXAMPLES:
        page = Read(page_at(path, "bench"))
        assert page.links == []
        assert [name for name, count in page.ids.items() if count > 1] == []


def test_what_must_not_be_connected_is_said_above_each_list() -> None:
    text = page_at(FAULTY, "bench")
    for name in ("cut", "order", "labels"):
        section = text[text.index(f'<section id="{name}"') :]
        assert "DO NOT CONNECT" in section[: section.index("</h2>") + 200]
    assert "DO NOT CONNECT" not in page_at(VAN, "bench")


def test_a_hostile_name_does_not_leave_the_style() -> None:
    papers: tuple[Paper, ...] = ("bench", "full", "")
    for paper in papers:
        page = Read(page_text(HOSTILE_PLAN, paper=paper))
        assert page.tags["script"] == (0 if paper == "bench" else 1)
        assert page.tags["img"] == page.tags["b"] == page.tags["i"] == 0


def test_a_plan_that_cannot_be_read_says_so() -> None:
    page = Read(page_text("wattproof: 1\nsettin: boat\n", paper="bench"))
    assert "CANNOT BE CHECKED" in page.text
    assert "order" not in page.ids


def test_a_fingerprint_is_of_the_text_alone() -> None:
    """SHA-256 by FIPS 180-4."""
    assert fingerprint({"a.yaml": "x: 1\n"}) == hashlib.sha256(b"x: 1\n").hexdigest()[:12]
    assert fingerprint({"a.yaml": "x", "b.yaml": "y"}) == fingerprint({"c": "x", "d": "y"})
    assert fingerprint({"a.yaml": "x", "b.yaml": "y"}) != fingerprint({"a.yaml": "x"})
    assert fingerprint({}) == ""


@pytest.mark.parametrize("size", [(600, 800), (960, 1168), (640, 1052), (2500, 3000), (880, 792)])
def test_pieces_cover_a_picture_and_fit_their_sheets(size: tuple[float, float]) -> None:
    wide, high = size
    svg = f'<svg viewBox="0 0 {wide} {high}" width="{wide}" height="{high}" id="a" font-size="11"/>'
    made = list(pieces(svg))
    assert sum('id="a"' in piece.svg for piece in made) == 1
    right = bottom = 0.0
    for piece in made:
        sheet = ACROSS if piece.across else UPRIGHT
        box = [float(n) for n in re.findall(r'viewBox="([^"]*)"', piece.svg)[0].split()]
        shown = [float(n) for n in re.findall(r'(?:width|height)="([\d.]+)"', piece.svg)]
        assert shown[0] <= sheet[0] + 0.1
        assert shown[1] <= sheet[1] + 0.1
        assert shown[0] / box[2] * 11 * 0.75 >= LEAST_TYPE - 0.01
        assert box[0] <= right + 0.1
        assert box[1] <= bottom + 0.1
        right, bottom = max(right, box[0] + box[2]), max(bottom, box[1] + box[3])
    assert right == pytest.approx(wide)
    assert bottom == pytest.approx(high)
