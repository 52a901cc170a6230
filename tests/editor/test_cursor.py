"""Where a cursor stands in a text that is being typed: `|` marks it."""

from __future__ import annotations

import pytest

from wattproof.editor.cursor import Cursor, cursor_at

CASES: list[tuple[str, tuple[str | int, ...], bool, str]] = [
    ("|", (), True, ""),
    ("wa|", (), True, "wa"),
    ("site:\n  col|", ("site",), True, "col"),
    ("site:\n  coldest: -1|", ("site", "coldest"), False, "-1"),
    ("site:\n  places:\n    roof: {am|", ("site", "places", "roof"), True, "am"),
    ("site:\n  places:\n    roof: {wet: t|", ("site", "places", "roof", "wet"), False, "t"),
    ("site:\n\n  # a remark\n  hottest: 40 °C\n  |", ("site",), True, ""),
    ("site:\n  hottest: 40 °C\n|", (), True, ""),
    ("site:\n  places:\n    roof:\n      wet: true\n  co|", ("site",), True, "co"),
    ("fuses:\n  f: {rating: 40 A, st|", ("fuses", "f"), True, "st"),
    ("fuses:\n  f: {rating: 40 A}\n  g: {rat|}", ("fuses", "g"), True, "rat"),
    ("wires:\n  a: {inline: [c, {d: {from_end: |",
     ("wires", "a", "inline", 1, "d", "from_end"), False, ""),
    ("wires:\n  a: {from: b,\n      to: c|", ("wires", "a", "to"), False, "c"),
    ("wires:\n  a: {from: 'x, {y', to: |", ("wires", "a", "to"), False, ""),
    ("wires:\n  a: # {not this\n    fr|", ("wires", "a"), True, "fr"),
    ("accepted:\n  - rule: a\n    where: b\n  - rule: c|", ("accepted", 1, "rule"), False, "c"),
    ("accepted:\n- rule: a\n  wh|", ("accepted", 0), True, "wh"),
    ("accepted:\n  - {rule: a, wh|", ("accepted", 0), True, "wh"),
    ("accepted:\n  - rule: a\nwires:\n  b: {|", ("wires", "b"), True, ""),
    ("combiners:\n  j: {joins: [a, b|", ("combiners", "j", "joins", 1), False, "b"),
    ("combiners:\n  j:\n    joins:\n      - a\n      - b|",
     ("combiners", "j", "joins", 1), True, "b"),
    ("title: >\n  some {text\n  site: no\nfu|", (), True, "fu"),
    ("fuses: &all\n  f: {r|", ("fuses", "f"), True, "r"),
    ("a: {b: 'it''s', |", ("a",), True, ""),
    ("fuses:\r\n  f: {rating: 4|", ("fuses", "f", "rating"), False, "4"),
    ("}}]],,::|", (), True, "}}]],,::"),
    ("a: }|", ("a",), False, "}"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "path", "is_key", "word"), CASES)
def test_it_is_found(text: str, path: tuple[str | int, ...], is_key: bool, word: str) -> None:
    offset = text.index("|")
    found = cursor_at(text.replace("|", ""), offset)
    assert found._replace(beside=frozenset()) == Cursor(path, is_key, word, offset - len(word))


def test_keys_that_are_there_already_are_told() -> None:
    text = "fuses:\n  f: {rating: 40 A, style: x, "
    assert cursor_at(text, len(text)).beside == {"rating", "style"}
    lines = "site:\n  coldest: 1 °C\n  hottest: 40 °C\n  "
    assert cursor_at(lines, len(lines)).beside == {"coldest", "hottest"}


def test_any_prefix_of_a_plan_has_a_cursor() -> None:
    from editor.clients import SIX

    text = SIX.read_text(encoding="utf-8")
    for offset in range(0, len(text), 7):
        assert cursor_at(text, offset).start <= offset
