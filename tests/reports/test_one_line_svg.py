"""One-line diagrams: nothing lost, nothing over another, the same every time."""

from __future__ import annotations

import itertools
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import pytest

from cli.calls import SOURCES
from corpus import generated
from plans import EXAMPLES, edited
from reports import one_line_plans
from reports.one_line_pictures import (
    SVG,
    Group,
    Picture,
    pairs_that_meet,
    segments,
    shrunk,
)
from reports.report_rules import GOLDEN
from wattproof.cli.packs import installed_rules
from wattproof.engine import check
from wattproof.finding import Finding
from wattproof.plan.references import components
from wattproof.plan.root import Plan
from wattproof.reports import one_line_svg
from wattproof.reports.curves_labels import Box
from wattproof.reports.one_line_drawing import identifier
from wattproof.study import STATES, Study
from wattproof.study.one_line import End, OneLine, Part, Run
from wattproof.testing import A_DAY, study_of

FILES = sorted([*EXAMPLES.glob("*.yaml"), *(EXAMPLES / "faulty").glob("*.yaml")])
LARGE = 120
SMALL = 120
HOSTILE = '</text><script>alert("1")</script> & \x00\x1b\u202e ]]> <!-- '


def study_at(path: Path) -> Study:
    return study_of(path.read_text(encoding="utf-8"), name=str(path))


def findings_of(study: Study) -> tuple[Finding, ...]:
    return check(study, installed_rules(), file="plan.yaml", today=A_DAY).findings


def faults(picture: Picture, view: OneLine) -> Iterator[str]:
    """Everything that lies over another, leaves the picture, or leads to the wrong place."""
    yield from _outside(picture)
    yield from _over_each_other(picture)
    ends = _ends(picture, view)
    boxes = [(shrunk(g.box, 0.8), g) for g in picture.parts if g.box is not None]
    texts = [(shrunk(t.box, 0.4), t) for t in picture.texts]
    lines = [(s, run) for run in picture.runs for way in run.lines for s in segments(way)]
    for line, run in lines:
        for text in (t for box, t in texts if box.meets(line)):
            yield f"a line of {run.name} runs through the words {text.text!r}"
        for part in (g for box, g in boxes if box.meets(line)):
            if part not in ends.get(run, ()):
                yield f"a line of {run.name} runs through {part.name or part.id}"
    for (a, first), (b, second) in itertools.combinations(lines, 2):
        if first is not second and _lie_along(a, b):
            yield f"lines of {first.name} and {second.name} lie on each other"
    for run, joined in ends.items():
        tips = (run.lines[0][0], run.lines[-1][-1])
        ways = [zip(joined, points, strict=True) for points in (tips, tips[::-1])]
        if not any(all(_touches(*each) for each in way) for way in ways):
            yield f"{run.name} does not lead from {joined[0].name} to {joined[1].name}"


def _outside(picture: Picture) -> Iterator[str]:
    whole = Box(0.0, 0.0, picture.wide, picture.high)
    for text in picture.texts:
        if not whole.holds(text.box):
            yield f"{text.text!r} leaves the picture"
    for group in picture.parts:
        if group.box is not None and not whole.holds(group.box):
            yield f"{group.name} leaves the picture"
    for run in picture.runs:
        for x, y in itertools.chain(*run.lines):
            if not (0 <= x <= picture.wide and 0 <= y <= picture.high):
                yield f"a line of {run.name} leaves the picture"


def _over_each_other(picture: Picture) -> Iterator[str]:
    for a, b in pairs_that_meet([(t.box, t) for t in picture.texts]):
        yield f"{a.text!r} and {b.text!r} overlap"  # type: ignore[attr-defined]
    symbols = [(g.box, g) for g in picture.parts if g.box is not None]
    for a, b in pairs_that_meet(symbols):  # type: ignore[arg-type]
        assert isinstance(a, Group)
        assert isinstance(b, Group)
        if not (a.is_in(b) or b.is_in(a)):
            yield f"{a.name} and {b.name} overlap"
    for box, group in symbols:
        for text in picture.texts:
            inside = text.owner is not None and text.owner.is_in(group) and box.holds(text.box)
            if box.meets(text.box) and not inside:
                yield f"{text.text!r} and the symbol of {group.name} overlap"


def _ends(picture: Picture, view: OneLine) -> dict[Group, tuple[Group, Group]]:
    """The parts at both ends of each run. Groups stand in the order of the view."""
    standing = [g for g in picture.groups if g.kind == "part" and g.within is None]
    by_key = dict(zip((part.key for part in view.parts), standing, strict=True))
    return {
        group: (by_key[run.upper.part], by_key[run.lower.part])
        for run, group in zip(view.runs, picture.runs, strict=True)
    }


def _touches(group: Group, point: tuple[float, float]) -> bool:
    assert group.box is not None
    return group.box.touches(point, 0.6)


def _lie_along(a: Box, b: Box) -> bool:
    """Whether two straight stretches run along each other, not only across."""
    if a.left == a.right and b.left == b.right:
        return abs(a.left - b.left) < 3 and min(a.bottom, b.bottom) - max(a.top, b.top) > 1
    if a.top == a.bottom and b.top == b.bottom:
        return abs(a.top - b.top) < 3 and min(a.right, b.right) - max(a.left, b.left) > 1
    return False


def drawn(study: Study, findings: tuple[Finding, ...] = ()) -> tuple[Picture, OneLine]:
    view = study.one_line("standard")
    return Picture(one_line_svg.render(view, findings)), view


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
class TestExamples:
    def test_nothing_lies_over_another(self, path: Path) -> None:
        study = study_at(path)
        assert list(faults(*drawn(study, findings_of(study)))) == []
        assert list(faults(*drawn(study))) == []

    def test_nothing_is_lost(self, path: Path) -> None:
        study = study_at(path)
        assert_all_is_there(study, drawn(study)[0])


class TestGenerated:
    @pytest.mark.parametrize("number", range(4))
    def test_large_plans(self, number: int) -> None:
        for text in itertools.islice(one_line_plans.plans(LARGE), number, None, 4):
            study = study_of(text)
            picture, view = drawn(study)
            assert list(faults(picture, view)) == [], text
            assert_all_is_there(study, picture)

    def test_usual_plans(self) -> None:
        for text in generated.plans(SMALL):
            study = study_of(text)
            picture, view = drawn(study, findings_of(study))
            assert list(faults(picture, view)) == [], text
            assert_all_is_there(study, picture)


def assert_all_is_there(study: Study, picture: Picture) -> None:
    """Every component, every way of a panel and every wire, by its name and its id."""
    shown = {group.id: picture.named(group) for group in picture.groups if group.id}
    assert len(shown) == len([group for group in picture.groups if group.id])
    for component in components(study.plan):
        if component.name not in study.plan.shade:
            assert shown.pop(identifier(component.name)) == component.name
    for panel in study.plan.distribution.values():
        for way in panel.ways:
            assert shown.pop(identifier(f"{panel.name}.{way}")) == way
    assert shown == {}
