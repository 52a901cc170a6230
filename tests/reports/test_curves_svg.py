"""The picture of curves: well-formed, self-contained, legible, the same every time."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from amounts import a_quarter_of
from reports.curve_plans import (
    DRAWABLE,
    SHADED,
    SOUND,
    SVG,
    TWO_INPUTS,
    UNLIKE,
    example,
    inputs_of,
    picture,
    written,
)
from wattproof.reports.curves import svg as curves_svg
from wattproof.reports.curves.axes import Scale, ticks
from wattproof.reports.curves.data import InputCurves
from wattproof.reports.curves.labels import Box, Labels
from wattproof.reports.curves.marks import SHADE_STYLES, STYLES

CASES = {
    **{path.stem: path for path in DRAWABLE},
    "unlike": UNLIKE,
    "two-inputs": TWO_INPUTS,
    "shaded": SHADED,
    "pwm": SOUND.replace("kind: mppt", "kind: pwm"),
}
HOSTILE = '</text><script>alert("1")</script> & \x00\x1b\u202e\ud800 ]]> <!-- '


@cache
def drawn(case: Path | str) -> tuple[str, list[InputCurves]]:
    return example(case) if isinstance(case, Path) else ("A plan", inputs_of(case))


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
class TestEveryPicture:
    def test_no_text_meets_another_or_leaves_the_picture(self, case: Path | str) -> None:
        root = picture(*drawn(case))
        _, _, wide, high = map(float, root.attrib["viewBox"].split())
        texts = written(root)
        for text in texts:
            assert text.left >= 0, text
            assert text.right <= wide, text
            assert text.top >= 0, text
            assert text.bottom <= high, text
        for first, second in combinations(texts, 2):
            assert not first.meets(second), (first, second)

    def test_every_state_is_named_and_every_maximum_told(self, case: Path | str) -> None:
        title, inputs = drawn(case)
        shown = [text.text for text in written(picture(title, inputs))]
        for curves in inputs:
            for state in curves.states:
                assert state.state in shown
                assert state.words in shown
                told = [text for text in shown if text.startswith(f"{state.state}: ")]
                assert len(told) == sum(
                    len(s.maxima) for c in inputs for s in c.curves if s.name == state.state
                )

    def test_every_shade_is_named_with_its_maxima_and_what_it_costs(self, case: Path | str) -> None:
        title, inputs = drawn(case)
        shown = [text.text for text in written(picture(title, inputs))]
        for curves in inputs:
            for shade in curves.shades:
                name = next(text for text in shown if shade.name.startswith(text.rstrip("…")))
                told = {text for text in shown if text.startswith(f"{name}: ")}
                assert len(told) >= len(shade.maxima)
                assert f"{shade.words}: {shade.lost} lost to the shade" in shown
                assert f"{shade.state}, no shade" in shown

    def test_nothing_is_drawn_outside(self, case: Path | str) -> None:
        root = picture(*drawn(case))
        _, _, wide, high = map(float, root.attrib["viewBox"].split())
        for path in root.iter(f"{SVG}path"):
            numbers = [float(n) for n in re.findall(r"-?[\d.]+", path.attrib["d"])]
            assert all(0 <= x <= wide for x in numbers[::2])
            assert all(0 <= y <= high for y in numbers[1::2])

    def test_the_same_every_time(self, case: Path | str) -> None:
        assert curves_svg.render(*drawn(case)) == curves_svg.render(*drawn(case))


def test_it_needs_nothing_around_it() -> None:
    text = curves_svg.render(*example(DRAWABLE[0]))
    root = ElementTree.fromstring(text)
    tags = {node.tag.removeprefix(SVG) for node in root.iter()}
    assert tags <= {
        "svg", "title", "desc", "style", "rect", "text", "line", "path", "circle", "polygon",
    }  # fmt: skip
    assert re.findall(r"https?://[^\"]*", text) == ["http://www.w3.org/2000/svg"]
    assert not re.search(r"url\(|href|style=", text)


def test_a_reader_of_screens_is_told_what_it_shows() -> None:
    title, inputs = example(DRAWABLE[0])
    root = picture(title, inputs)
    assert root.attrib["role"] == "img"
    by_id = {node.attrib["id"]: node.text or "" for node in root.iter() if "id" in node.attrib}
    names = root.attrib["aria-labelledby"].split()
    assert by_id[names[0]] == title
    for state in inputs[0].states:
        assert state.words in by_id[names[1]].lower()


def test_the_ground_is_white_and_first() -> None:
    root = picture(*example(DRAWABLE[0]))
    unseen = {f"{SVG}title", f"{SVG}desc", f"{SVG}style"}
    ground = next(node for node in root if node.tag not in unseen)
    assert ground.attrib == {
        "width": root.attrib["width"], "height": root.attrib["height"], "fill": "#ffffff",
    }  # fmt: skip


def test_curves_differ_in_colour_dash_and_mark() -> None:
    for key in ("colour", "dash", "shape"):
        assert len({getattr(style, key) for style in (*STYLES, *SHADE_STYLES)}) == 6


def test_shades_stand_beside_the_same_state_without_shade_three_at_a_time() -> None:
    [inputs] = inputs_of(SHADED)
    texts = [text.text for text in written(picture("", [inputs]))]
    assert texts.count("Solar input of tracker, under shade") == 2
    assert "Solar input of tracker, under shade" not in [
        text.text for text in written(picture("", CURVES))
    ]


def test_a_shade_that_leaves_no_light_has_no_curve() -> None:
    [inputs] = inputs_of(SHADED)
    assert inputs.dark == ("snow",)
    assert len(inputs.shades) == 4


def test_hostile_title_and_names_are_text_only() -> None:
    [inputs] = inputs_of(SOUND)
    hostile = replace(inputs, controller=HOSTILE * 4)
    text = curves_svg.render(HOSTILE * 9, [hostile])
    root = ElementTree.fromstring(text.encode("utf-8"))
    assert not list(root.iter(f"{SVG}script"))
    assert "<script" not in text
    assert not re.search("[\x00\x1b\u202e]", text)
    _, _, wide, _ = map(float, root.attrib["viewBox"].split())
    assert all(label.right <= wide for label in written(root))


@settings(max_examples=a_quarter_of(25), deadline=None)
@given(title=st.text(max_size=300))
def test_any_title_gives_a_picture(title: str) -> None:
    root = picture(title, CURVES)
    texts = written(root)
    for first, second in combinations(texts[:6], 2):
        assert not first.meets(second)


CURVES = inputs_of(SOUND)


def test_the_band_reaches_from_the_needed_to_the_highest_voltage() -> None:
    [inputs] = CURVES
    root = picture("", CURVES)
    [left, right] = _band(root)
    per_volt = (right - left) / (inputs.taken - (inputs.needed or 0.0))
    assert left - per_volt * (inputs.needed or 0.0) == pytest.approx(68.0, abs=0.1)


def test_no_band_where_nothing_fits() -> None:
    [inputs] = CURVES
    root = picture("", [replace(inputs, needed=120.0, taken=100.0)])
    assert not [n for n in root.iter(f"{SVG}rect") if float(n.attrib["height"]) > 200][1:]
    assert any("nothing, since it needs" in text.text for text in written(root))


def test_pictures_apart_hold_what_the_one_holds() -> None:
    inputs = inputs_of(SHADED)
    apart = [ElementTree.fromstring(text) for text in curves_svg.pictures(inputs)]
    assert len(apart) == 3
    ids = [node.attrib["id"] for root in apart for node in root.iter() if "id" in node.attrib]
    assert len(set(ids)) == len(ids) == 6
    whole = {text.text for text in written(picture("", inputs))}
    assert {text.text for root in apart for text in written(root)} == whole
    assert max(float(root.attrib["height"]) for root in apart) < 900


def test_every_colour_has_one_for_a_dark_screen() -> None:
    text = curves_svg.render("", inputs_of(SHADED))
    drawn = {*re.findall(r'(?:fill|stroke)="(#[0-9a-f]{6})"', text)}
    style = text[text.index("<style>") : text.index("</style>")]
    assert drawn
    assert all(f"[fill='{colour}']" in style for colour in drawn)


def test_a_voltage_that_is_too_high_is_marked() -> None:
    faulty = next(path for path in DRAWABLE if path.stem == "van-cold-morning")
    shown = [text.text for text in written(picture(*example(faulty)))]
    assert "109 V, too high" in shown


def _band(root: ElementTree.Element) -> list[float]:
    band = next(
        n for n in list(root.iter(f"{SVG}rect"))[1:] if float(n.attrib["height"]) > 200
    )  # fmt: skip
    left = float(band.attrib["x"])
    return [left, left + float(band.attrib["width"])]


@pytest.mark.parametrize(
    ("top", "about", "labels"),
    [
        (25.5, 6, ["0", "5", "10", "15", "20", "25"]),
        (1.2, 6, ["0.0", "0.2", "0.4", "0.6", "0.8", "1.0", "1.2"]),
        (1644.0, 6, ["0", "200", "400", "600", "800", "1000", "1200", "1400", "1600"]),
        (0.031, 6, ["0.000", "0.005", "0.010", "0.015", "0.020", "0.025", "0.030"]),
    ],
)
def test_ticks_are_round(top: float, about: int, labels: list[str]) -> None:
    assert [text for _, text in ticks(top, about)] == labels


def test_a_scale_keeps_to_its_ends() -> None:
    scale = Scale(10.0, 100.0, 0.0)
    assert [scale.at(v) for v in (-1.0, 0.0, 5.0, 10.0, 99.0)] == [100.0, 100.0, 50.0, 0.0, 0.0]


class TestLabels:
    ROOM = Box(0.0, 0.0, 300.0, 200.0)

    def test_many_labels_at_one_point_leave_each_other_free(self) -> None:
        labels = Labels(self.ROOM)
        placed = [labels.place("a label", [(150.0, 100.0)]) for _ in range(20)]
        boxes = [p.box for p in placed if p is not None]
        assert len(boxes) >= 4
        assert all(self.ROOM.holds(box) for box in boxes)
        assert not any(a.meets(b) for a, b in combinations(boxes, 2))

    def test_a_label_for_which_there_is_no_room_is_left_out(self) -> None:
        assert Labels(Box(0.0, 0.0, 20.0, 20.0)).place("far too long", [(10.0, 10.0)]) is None

    def test_a_label_keeps_off_a_line_where_it_can(self) -> None:
        labels = Labels(self.ROOM)
        labels.avoid([(150.0, 100.0), (300.0, 100.0)])
        placed = labels.place("beside", [(150.0, 100.0)])
        assert placed is not None
        assert not placed.box.meets(Box(150.0, 99.0, 300.0, 101.0))
