"""Single edits of a text, each beside what it must not touch."""

from __future__ import annotations

import pytest

from plans import edited
from wattproof.amend.changes import with_changes
from wattproof.amend.difference import unified
from wattproof.amend.edits import NotWritten, renamed, with_item, with_value, without
from wattproof.amend.reread import is_amended
from wattproof.plan import load_plan
from wattproof.plan.amend import Addition, Change


@pytest.mark.parametrize(
    ("old", "path", "value", "new"),
    [
        ("a: {b: 1 V}\n", ("a", "b"), "2 V", "a: {b: 2 V}\n"),
        ("a: {b: '1 V' }  # c\n", ("a", "b"), "2 V", "a: {b: '2 V' }  # c\n"),
        ('a:\n  b: "1 V"\t# c\n', ("a", "b"), "2 V", 'a:\n  b: "2 V"\t# c\n'),
        ("a: {b: 1}\n", ("a", "c"), "2", "a: {b: 1, c: 2}\n"),
        ("a: {b: 1,}\n", ("a", "c"), "2", "a: {b: 1, c: 2,}\n"),
        ("a: {}\n", ("a", "c"), "2", "a: {c: 2}\n"),
        ("a:\n  b: 1  # x\n\nd: 2\n", ("a", "c"), "2", "a:\n  b: 1  # x\n  c: 2\n\nd: 2\n"),
        ("a:\r\n  b: 1\r\n", ("a", "c"), "2", "a:\r\n  b: 1\r\n  c: 2\r\n"),
        ("a:\n  b: 1", ("a", "c"), "2", "a:\n  b: 1\n  c: 2"),
        ("a:\n  b: 1\n", ("c", "d", "e"), "2", "a:\n  b: 1\nc:\n  d: {e: 2}\n"),
        ("a: &x 1 V\n", ("a",), "2 V", "a: &x 2 V\n"),
        ("a: &x 1 V\nb: *x\n", ("b",), "2 V", "a: &x 1 V\nb: 2 V\n"),
        ("a: 板\nb: 鉛 # 重\n", ("b",), "2 V", "a: 板\nb: 2 V # 重\n"),
        ("- a: 1\n  b: 2\n- c: 3\n", (0, "d"), "4", "- a: 1\n  b: 2\n  d: 4\n- c: 3\n"),
        ("a: {b: 1}\n", ("a", "b"), "12:40, clear", "a: {b: '12:40, clear'}\n"),
        ("{a: 1}\n", ("b",), "-18 °C", "{a: 1, b: -18 °C}\n"),
    ],
)
def test_a_value_is_changed_or_added(old: str, path: tuple[str, ...], value: str, new: str) -> None:
    assert with_value(old, path, value) == new


@pytest.mark.parametrize(
    ("old", "path", "new"),
    [
        ("a: {b: 1, c: 2, d: 3}\n", ("a", "c"), "a: {b: 1, d: 3}\n"),
        ("a: {b: 1, c: 2}\n", ("a", "c"), "a: {b: 1}\n"),
        ("a: {b: 1, c: 2}\n", ("a", "b"), "a: {c: 2}\n"),
        ("a: {b: 1,\n    c: 2}\n", ("a", "c"), "a: {b: 1}\n"),
        ("a: {b: 1, # x\n    c: 2}\n", ("a", "c"), "a: {b: 1 # x\n    }\n"),
        ("a: {c: 2, b: 1,\n    d: 2}\n", ("a", "b"), "a: {c: 2,\n    d: 2}\n"),
        ("a:\n  b: 1\n  c: 2\n", ("a", "b"), "a:\n  c: 2\n"),
        ("a:\n  b: 1  # why\n  c: 2\n", ("a", "b"), "a:\n  # why\n  c: 2\n"),
        ("a:\n  b: 1\n  c: 2", ("a", "c"), "a:\n  b: 1"),
        ("a:\r\n  b: 1\r\n  c: 2\r\n", ("a", "b"), "a:\r\n  c: 2\r\n"),
        ("a: [x, y, z]\n", ("a", 1), "a: [x, z]\n"),
        ("a:\n- x\n- y\n", ("a", 0), "a:\n- y\n"),
    ],
)
def test_a_key_or_an_item_is_left_out(old: str, path: tuple[str | int, ...], new: str) -> None:
    assert without(old, path) == new


@pytest.mark.parametrize(
    ("old", "first", "new"),
    [
        ("a: [x]\n", False, "a: [x, y]\n"),
        ("a: [x]\n", True, "a: [y, x]\n"),
        ("a: []\n", False, "a: [y]\n"),
        ("a: x # c\n", False, "a: [x, y] # c\n"),
        ("a: x # c\n", True, "a: [y, x] # c\n"),
        ("a:\n  - x # c\nb: 1\n", False, "a:\n  - x # c\n  - y\nb: 1\n"),
        ("a:\n- x\nb: 1\n", True, "a:\n- y\n- x\nb: 1\n"),
        ("a:\n- x:\n    z: 1\nb: 1\n", False, "a:\n- x:\n    z: 1\n- y\nb: 1\n"),
        ("b: 1\n", False, "b: 1\na: [y]\n"),
    ],
)
def test_an_item_is_added_to_a_list(old: str, first: bool, new: str) -> None:
    assert with_item(old, ("a",), "y", first=first) == new


def test_a_key_gives_way_to_another() -> None:
    assert renamed("a: {series: 4, b: 1} # c\n", ("a", "series"), "arrangement", "2s2p") == (
        "a: {arrangement: 2s2p, b: 1} # c\n"
    )


@pytest.mark.parametrize(
    ("old", "path"),
    [
        ("a: &x 1 V\nb: *x\n", ("a",)),
        ("a: &x {c: 1 V}\nb: *x\n", ("a", "c")),
        ("a: &x {c: 1 V}\nb: *x\n", ("b", "c")),
        ("a: &x {c: 1 V}\nb: {<<: *x}\n", ("a", "c")),
        ("a: &x {c: {d: 1}}\nb: {<<: *x}\n", ("b", "c", "d")),
        ("a: &x [{c: 1}]\nb: *x\n", ("a", 0, "c")),
    ],
)
def test_what_stands_behind_an_anchor_of_others_is_refused(
    old: str, path: tuple[str | int, ...]
) -> None:
    with pytest.raises(NotWritten, match="anchor"):
        with_value(old, path, "2 V")


def test_a_value_that_is_merged_in_is_written_over_where_it_is_used() -> None:
    old = "a: &x {c: 1 V}\nb: {<<: *x}\n"
    assert with_value(old, ("b", "c"), "2 V") == "a: &x {c: 1 V}\nb: {<<: *x, c: 2 V}\n"


def test_a_datasheet_in_a_shared_file_is_left_to_the_person() -> None:
    text = edited(
        ("setting: vehicle\n", "setting: vehicle\nparts: [labels.yaml]\n"),
        (
            "    pv-10: {size: 10 AWG, kind: pv, insulation_temperature: 90 °C, voltage: 600 V}\n",
            "",
        ),
    )
    made = with_changes(text, [Change("home-run", "cable.size", "8 AWG")])
    assert made.text == text
    [refused] = made.refused
    assert "stands in a file of `parts`" in refused.why
    assert "`size: 8 AWG` for the cable of `home-run`" in refused.by_hand


def test_what_can_be_written_is_and_the_rest_is_told() -> None:
    changes = [Change("tracker", "limited_to", "9 A"), Change("nobody", "rating", "9 A")]
    made = with_changes(edited(), changes)
    assert "limited_to: 9 A" in made.text
    assert [r.change for r in made.refused] == changes[1:]


def test_wires_that_change_alike_share_their_new_datasheet() -> None:
    text = edited(("cable: batt-8, length: 1 m", "cable: pv-10, length: 1 m"))
    both = [Change(w, "cable.size", "6 AWG") for w in ("home-run", "charge-run")]
    made = with_changes(text, both)
    assert made.text.count("size: 6 AWG") == 1  # both wires are all that have that cable
    thinner = [*both, Change("home-run", "cable.size", "4 AWG")]
    made = with_changes(text, thinner)
    assert made.text.count("size: 4 AWG") == 1
    assert made.text.count("size: 6 AWG") == 1


def test_a_cable_that_was_not_known_gets_a_datasheet() -> None:
    for written in ("cable: unknown, ", ""):
        text = edited(("cable: batt-8, length: 1 m", f"{written}length: 1 m"))
        change = Change("charge-run", "cable.size", "6 AWG")
        made = with_changes(text, [change])
        assert not made.refused
        assert "    charge-run-cable: {size: 6 AWG}\n" in made.text
        before, after = (load_plan("plan.yaml", text=each) for each in (text, made.text))
        assert is_amended(before, [change], after)
        other = with_changes(text, [Change("tracker", "limited_to", "9 A")])
        after = load_plan("plan.yaml", text=other.text)
        assert is_amended(before, [Change("tracker", "limited_to", "9 A")], after)
        assert not is_amended(before, [change], after)


def test_a_part_of_which_nothing_was_known_gets_keys() -> None:
    """`unknown` in its place says no more than that it is there."""
    text = edited(
        ("charge-fuse: {rating: 40 A, voltage: 58 V, style: bolt-down, interrupt: 10 kA, dc: true}",
         "charge-fuse: unknown   # not told which"),
    )  # fmt: skip
    changes = [Change("charge-fuse", "style", "class-t"), Change("charge-fuse", "rating", "40 A")]
    made = with_changes(text, changes)
    assert not made.refused
    assert "  charge-fuse: {style: class-t, rating: 40 A}   # not told which\n" in made.text
    before, after = (load_plan("plan.yaml", text=each) for each in (text, made.text))
    assert is_amended(before, changes, after)
    assert not is_amended(before, changes[:1], after)


def test_a_fuse_goes_to_the_end_that_it_is_measured_from() -> None:
    fuse = Addition("fuses", "new", (("rating", "30 A"),), "charge-run", "from", "5 cm")
    made = with_changes(edited(), [fuse])
    assert (
        "inline: [{new: {from_end: from, distance: 5 cm}}, {charge-fuse: "
        "{from_end: to, distance: 10 cm}}]"
    ) in made.text
    assert "  new: {rating: 30 A}\n" in made.text


def test_a_difference_can_be_patched() -> None:
    assert unified("a\nb", "a\nc", "p") == (
        "--- p\n+++ p\n@@ -1,2 +1,2 @@\n a\n-b\n\\ No newline at end of file\n+c\n"
        "\\ No newline at end of file\n"
    )
    assert unified("a\r\nb\r\n", "a\r\nc\r\n", "p").endswith("-b\r\n+c\r\n")
    assert unified("a\n", "a\n", "p") == ""


@pytest.mark.parametrize(
    ("told", "written"),
    [
        ("feeds: {to: tracker, length: 40 m}", "feeds: {to: tracker, length: 40 ft}"),
        ("feeds: {to: tracker}", "feeds: {to: tracker, length: 40 ft}"),
        ("feeds: tracker", "feeds: {to: tracker, length: 40 ft}"),
        ("feeds: tracker.pv", "feeds: {to: tracker.pv, length: 40 ft}"),
    ],
)
def test_the_length_of_a_way_that_feeds_makes_is_written_there(told: str, written: str) -> None:
    """Nothing of its name stands under `wires`, so that the remedy was refused."""
    change = Change("roof-to-tracker", "length", "40 ft")
    made = with_changes(FEEDING.replace("FEEDS", told), [change])
    assert made == (FEEDING.replace("FEEDS", written), ())
    before, after = (
        load_plan("plan.yaml", text=text) for text in (FEEDING.replace("FEEDS", told), made.text)
    )
    assert is_amended(before, [change], after)
    assert not is_amended(before, [change], before)


FEEDING = """\
wattproof: 1
setting: vehicle
datasheets:
  modules:
    rigid-100: {voc: 24.3 V, isc: 5.2 A}
strings:
  roof: {module: rigid-100, series: 2, FEEDS}
controllers:
  tracker: {kind: mppt, max_input_voltage: 100 V, max_output_current: 20 A, feeds: house}
batteries:
  house: {chemistry: agm, nominal: 12 V, capacity: 100 Ah}
"""
