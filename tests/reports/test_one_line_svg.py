"""One-line diagrams: nothing lost, nothing over another, the same every time."""

from __future__ import annotations

import itertools
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from amounts import amount
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
from wattproof.engine import Result, check
from wattproof.finding import Acceptance, Finding
from wattproof.plan.references import components
from wattproof.reports.curves.labels import Box
from wattproof.reports.findings.telling import as_told
from wattproof.reports.one_line import svg as one_line_svg
from wattproof.reports.one_line.channels import Net, routed
from wattproof.reports.one_line.drawing import identifier
from wattproof.reports.one_line.marks import Sort, marks_at, numbered
from wattproof.reports.one_line.signs import sign
from wattproof.study import Study
from wattproof.study.site.states import STATES, WORDS
from wattproof.testing import A_DAY, study_of
from wattproof.views.one_line.view import End, OneLine, Part, Run, one_line

FILES = sorted([*EXAMPLES.glob("*.yaml"), *(EXAMPLES / "faulty").glob("*.yaml")])
LARGE = amount(10, 120, whole=24)
SMALL = amount(10, 120, whole=24)
HOSTILE = '</text><script>alert("1")</script> & \x00\x1b\u202e ]]> <!-- '

LOOP = (
    "  to-bar: {from: house, to: bar, cable: batt-8, length: 1 m}\n"
    "  loop: {from: bar.positive, to: bar.positive, cable: batt-8, length: 1 m}\n"
)
BACK = (
    "  feed: {from: house, to: p, cable: batt-8, length: 1 m}\n"
    "  back: {from: p.a, to: p, cable: batt-8, length: 1 m}\n"
    "  across: {from: p.a, to: p.b, cable: batt-8, length: 1 m}\n"
)
BOND = "  tie: {from: chassis, to: earth, cable: batt-8, length: 1 m}\n"
GROUNDS = "  hull: {from: chassis, to: water, cable: batt-8, length: 1 m}\n"
TWINS = (
    "  x: {kind: vehicle-charger, max_input_voltage: 50 V, max_output_current: 20 A}\n"
    "  y: {kind: vehicle-charger, max_input_voltage: 50 V, max_output_current: 20 A}\n"
)
ROUND = (
    "  into-x: {from: house, to: x.alternator, cable: batt-8, length: 1 m}\n"
    "  out-of-x: {from: x.battery, to: other, cable: batt-8, length: 1 m}\n"
    "  into-y: {from: other, to: y.alternator, cable: batt-8, length: 1 m}\n"
    "  out-of-y: {from: y.battery, to: house, cable: batt-8, length: 1 m}\n"
)


def study_at(path: Path) -> Study:
    return study_of(path.read_text(encoding="utf-8"), name=str(path))


def findings_of(study: Study) -> tuple[Finding, ...]:
    return check(study, installed_rules(), file="plan.yaml", today=A_DAY).result.findings


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


def drawn(study: Study, findings: tuple[Finding, ...] | None = None) -> tuple[Picture, OneLine]:
    view = one_line(study, "standard")
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
    shown = {group.id: picture.named(group) for group in picture.groups}
    assert len(shown) == len(picture.groups)
    in_packs = {
        str(bank.each_pack.fuse): name
        for name, bank in study.plan.batteries.items()
        if bank.each_pack is not None
    }
    for component in components(study.plan):
        if component.name in study.plan.readings:
            continue  # what a meter showed is no part of the circuit
        if component.name in in_packs:  # it stands at the bank, in words
            [bank] = [g for g in picture.groups if g.name == in_packs[component.name]]
            told = [t.text for t in picture.texts if t.owner is bank]
            assert f"at each pack: {component.name}" in told
            continue
        assert shown.pop(identifier(component.name)) == component.name
    for panel in study.plan.distribution.values():
        for way in panel.ways:
            assert shown.pop(identifier(f"{panel.name}.{way}")) == way
    assert all("_3A_" in key for key in shown), "only what has no name in the plan is left"


EDGES = {
    "nothing": "wattproof: 1\nsetting: cabin\n",
    "a wire back to where it began": edited(
        ("wires:\n", "busbars:\n  bar: {rating: 99 A}\nwires:\n" + LOOP),
    ),
    "a way back to the panel's feed": edited(
        (
            "wires:\n",
            "distribution:\n  p: {ways: {a: {fuse: 9 A}, b: {fuse: 5 A}}}\nwires:\n" + BACK,
        )
    ),
    "grounds joined": edited(("wires:\n", f"bonds:\n{BOND}wires:\n{GROUNDS}")),
    "banks that charge each other": edited(
        ("controllers:\n", f"controllers:\n{TWINS}"),
        ("batteries:\n", "batteries:\n  other: {chemistry: agm, nominal: 12 V, capacity: 50 Ah}\n"),
        ("wires:\n", f"wires:\n{ROUND}"),
    ),
}


@pytest.mark.parametrize("text", EDGES.values(), ids=EDGES)
def test_odd_plans_are_drawn_too(text: str) -> None:
    study = study_of(text)
    picture, view = drawn(study)
    assert list(faults(picture, view)) == []
    assert_all_is_there(study, picture)


def test_lines_cross_rather_than_lie_on_each_other_where_two_change_places() -> None:
    nets = [Net(10.0, 50.0), Net(50.0, 10.0)]
    steps, levels = routed(nets, [])
    assert levels == 3
    assert sorted(len(each) for each in steps) == [1, 2]
    twice = next(each for each in steps if len(each) == 2)
    once = next(each for each in steps if len(each) == 1)
    assert twice[0][0] < once[0][0] < twice[1][0]


class TestWords:
    def test_each_state_shows_its_own_figures(self) -> None:
        study = study_at(EXAMPLES / "van-six-modules.yaml")
        pictures = {s: Picture(one_line_svg.render(one_line(study, s))) for s in STATES}
        texts = {s: " ".join(t.text for t in p.texts) for s, p in pictures.items()}
        [array] = study.array.arrays
        for state in STATES:
            assert WORDS[state] in texts[state]
            assert f"Isc {array.isc(state)}" in texts[state]
        for state in ("standard", "coldest", "hottest"):
            assert f"Voc {array.voc(state)}" in texts[state]
            assert f"{array.vmp(state)}, {array.imp(state)}" in texts[state]
        assert f"{array.voc('standard')}, {array.isc('bright')}" in texts["bright"]

    def test_what_is_said_of_a_wire_and_of_a_device_in_it(self) -> None:
        study = study_at(EXAMPLES / "van-six-modules.yaml")
        picture, _ = drawn(study)
        said = {g.name: [t.text for t in picture.texts if t.owner is g] for g in picture.groups}
        assert said["home-run"] == ["home-run", "8 AWG, 16 ft", "61.5 V, 19.5 A"]
        assert said["bank-fuse"] == [
            "bank-fuse",
            "fuse 175 A, 125 V",
            "class-t, breaks 20 kA",
            "15 cm from house",
        ]
        assert said["array-off"][1:] == ["switch 32 A, 250 V", "2 poles"]

    def test_single_conductors_are_told_from_pairs(self) -> None:
        picture, _ = drawn(study_at(EXAMPLES / "folding-pair-series.yaml"))
        said = {g.name: [t.text for t in picture.texts if t.owner is g] for g in picture.runs}
        assert "links in series" in said["link"]
        assert {"+", "positive only"} <= set(said["lead-positive"])
        assert {"−", "negative only"} <= set(said["lead-negative"])
        assert not {"+", "−"} & set(said["charge-run"])

    def test_a_reader_of_screens_is_told_what_leads_where(self) -> None:
        root = drawn(study_at(EXAMPLES / "van-two-modules.yaml"))[0].root
        told = root.findtext(f"{SVG}desc") or ""
        assert "home-run leads from roof-pair to tracker.pv through array-off." in told


class TestMarks:
    STUDY = study_at(EXAMPLES / "faulty" / "cabin-unfused-strings.yaml")
    FINDINGS = findings_of(STUDY)

    def svg(self, **options: Any) -> str:
        return one_line_svg.render(one_line(self.STUDY, "standard"), self.FINDINGS, **options)

    def test_they_stand_where_the_findings_are_with_level_and_number(self) -> None:
        picture = Picture(self.svg(listed=False))
        numbers = {f.rule: n for n, f in enumerate(self.FINDINGS, start=1)}
        for rule, name, level in (
            ("string-fuse-missing", "four", "error"),
            ("combiner-over-rating", "branch", "error"),
            ("voltage-drop-high", "home-run", "warning"),
        ):
            said = [t.text for t in picture.texts if t.owner is not None and t.owner.name == name]
            assert any(re.fullmatch(rf"{level} [\d, ]*\b{numbers[rule]}\b[\d, ]*", t) for t in said)

    def test_levels_differ_in_shape(self) -> None:
        corners = {len(shape) for shape in map(_corners, ("error", "warning", "note", "accepted"))}
        assert len(corners) >= 3
        assert len({_corners(s) for s in ("error", "warning", "note", "accepted")}) == 4

    def test_they_lead_to_findings_where_asked(self) -> None:
        root = ElementTree.fromstring(self.svg(link="#finding-", listed=False))
        assert root.attrib["role"] == "group"
        links = {node.attrib["href"]: node.text for node in root.iter(f"{SVG}a")}
        assert links == {f"#finding-{n}": str(n) for n in range(1, len(self.FINDINGS) + 1)}
        assert "href" not in self.svg()

    def test_a_link_is_named_by_what_it_leads_to(self) -> None:
        root = ElementTree.fromstring(self.svg(link="#finding-", listed=False))
        named = {node.attrib["aria-label"] for node in root.iter(f"{SVG}a")}
        for number, finding in enumerate(self.FINDINGS, start=1):
            assert f"{finding.level} {number}: {finding.subjects[0]}" in named

    def test_a_key_stops_once_at_each_finding(self) -> None:
        root = ElementTree.fromstring(self.svg(link="#finding-", listed=False))
        stops = [a.attrib["href"] for a in root.iter(f"{SVG}a") if "tabindex" not in a.attrib]
        assert len(stops) == len(set(stops)) == len(self.FINDINGS)

    def test_all_are_told_below_unless_a_page_does(self) -> None:
        for n, finding in enumerate(self.FINDINGS, start=1):
            assert f"{finding.level} {n}<" in self.svg()
        assert "backwards" in self.svg()
        assert "backwards" not in self.svg(listed=False)

    def test_no_mark_is_not_taken_for_a_verdict(self) -> None:
        view = one_line(study_at(EXAMPLES / "van-two-modules.yaml"), "standard")
        unchecked, clean = one_line_svg.render(view), one_line_svg.render(view, ())
        assert "Not checked" in unchecked
        assert "Not checked" not in clean
        assert "no rule found a fault in what the plan declares" in clean
        assert "no rule found" not in self.svg()

    def test_accepted_ones_come_last_as_in_the_report(self) -> None:
        first, *rest = self.FINDINGS
        accepted = first._replace(acceptance=Acceptance("known", "", "", first.place))
        told = as_told(Result("plan.yaml", findings=(accepted, *rest)))
        marks = numbered(told)
        assert [m.finding for m in marks] == [*rest, accepted]
        assert marks[-1].sort == "accepted"
        svg = one_line_svg.render(one_line(self.STUDY, "standard"), told)
        assert f"accepted {len(marks)}" in svg

    def test_a_finding_on_a_label_stands_at_the_strings_that_use_it(self) -> None:
        study = study_of(
            edited(
                ("  cables:\n", "    other: {voc: 5 V, vmp: 4 V, isc: 1 A, imp: 1 A}\n  cables:\n")
            )
        )
        sheet = study.plan.datasheets.modules["rigid-100"]
        found = self.FINDINGS[0]._replace(place=sheet.at, subjects=("rigid-100",))
        elsewhere = found._replace(place=study.plan.setting.place, subjects=("plan",))
        at = marks_at(one_line(study, "standard"), numbered([found, elsewhere]))
        assert {key: [m.number for m in marks] for key, marks in at.items()} == {"roof-string": [1]}


def _corners(sort: Sort) -> str:
    return re.search(r'points="([^"]*)"', "".join(sign(sort, 0.0, 0.0)))[1]  # type: ignore[index]


def test_hostile_names_do_no_harm() -> None:
    view = OneLine(
        HOSTILE,
        "standard",
        (
            Part(HOSTILE, HOSTILE, "busbar", (HOSTILE,)),
            Part("b", "b" * 300, "panel", (), ways=(Part("b.<w>", HOSTILE, "fuse", (HOSTILE,)),)),
        ),
        (Run(f"run {HOSTILE}", HOSTILE, End(HOSTILE), End("b", HOSTILE), says=(HOSTILE,)),),
    )
    svg = one_line_svg.render(view, link='"><script>')
    picture = Picture(svg)
    assert list(faults(picture, view)) == []
    assert "<script" not in svg
    assert all(re.fullmatch(r"[A-Za-z0-9._-]+", group.id) for group in picture.groups)
    assert "<U+202E>" in "".join(t.text for t in picture.texts)


def test_it_needs_nothing_around_it() -> None:
    text = one_line_svg.render(one_line(study_at(EXAMPLES / "van-six-modules.yaml"), "standard"))
    assert re.findall(r"https?://[^\"]*", text) == ["http://www.w3.org/2000/svg"]
    assert not re.search(r"url\(|@import|href=| style=", text)
    assert "prefers-color-scheme: dark" in text
    assert "@media print" in text


DRAWN = """
import sys
from wattproof.reports.one_line import svg as one_line_svg
from wattproof.testing import study_of
from wattproof.views.one_line.view import one_line
sys.stdout.write(one_line_svg.render(one_line(study_of(sys.stdin.read()), "hottest")))
"""


def test_the_same_under_two_hash_seeds() -> None:
    text = next(itertools.islice(one_line_plans.plans(4), 3, None))
    pictures = {
        subprocess.run(
            [sys.executable, "-c", DRAWN],
            input=text.encode(),
            capture_output=True,
            check=True,
            env={**os.environ, "PYTHONPATH": SOURCES, "PYTHONHASHSEED": seed, "PYTHONUTF8": "1"},
        ).stdout
        for seed in ("0", "4242")
    }
    assert len(pictures) == 1


def test_the_picture_is_as_kept() -> None:
    study = study_at(EXAMPLES / "faulty" / "van-cold-morning.yaml")
    svg = one_line_svg.render(one_line(study, "coldest"), findings_of(study))
    path = GOLDEN / "one-line.svg"
    if os.environ.get("UPDATE_GOLDEN"):
        path.write_text(svg, encoding="utf-8", newline="\n")
    assert svg == path.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["camper-selector-past-controller", "fishing-boat-battery-turned"])
def test_a_finding_is_marked_once_at_what_it_is_about(name: str) -> None:
    """A wire that stands in one place of a plan under several names had `error 1, 1` beside it."""
    study = study_at(Path(__file__).parents[1] / "external" / "builds" / f"{name}.yaml")
    result = check(study, installed_rules(), file="plan.yaml", today=A_DAY).result
    for marks in marks_at(one_line(study, STATES[0]), numbered(as_told(result))).values():
        numbers = [mark.number for mark in marks]
        assert len(numbers) == len(set(numbers))
