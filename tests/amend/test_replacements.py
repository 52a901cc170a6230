"""What goes and what comes between two texts, put back together."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from wattproof.amend.replacements import Replacement, replacements

LINES = st.lists(
    st.sampled_from(["a: 1", "b: 22 A", "", "  c: é", "d: x\x0cy", "\ufeffe"]), max_size=8
)


def applied(text: str, made: tuple[Replacement, ...]) -> str:
    """A text with replacements in it, as a program does that counts lines and characters."""
    starts = [0]
    for line in text.split("\n"):
        starts.append(starts[-1] + len(line) + 1)
    for each in reversed(made):
        start = starts[each.line - 1] + each.column - 1
        end = starts[each.end_line - 1] + each.end_column - 1
        assert 0 <= start <= end <= len(text)
        text = text[:start] + each.text + text[end:]
    return text


@given(LINES, LINES, st.sampled_from(["\n", "\r\n"]))
def test_they_lead_from_one_text_to_the_other(old: list[str], new: list[str], end: str) -> None:
    before, after = end.join(old), end.join(new)
    made = replacements(before, after)
    assert applied(before, made) == after
    assert (made == ()) == (before == after)
    for one, other in pairwise(made):
        assert (one.end_line, one.end_column) < (other.line, other.column)


def test_a_word_is_replaced_whole_and_nothing_else() -> None:
    assert replacements("a: {x: false, y: 1}\n", "a: {x: true, y: 1}\n") == (
        Replacement(1, 8, 1, 13, "true"),
    )
    assert replacements("a: 1\nb: 2\nc: 3\n", "a: 1\nb: 2, d: 4\nc: 5\n") == (
        Replacement(2, 5, 3, 5, ", d: 4\nc: 5"),
    )


def test_many_lines_take_no_long_time() -> None:
    old = "".join(f"k{n}: 1\n" for n in range(40_000))
    new = old.replace("k5: 1", "k5: 2").replace("k39990: 1", "k39990: 2")
    assert applied(old, replacements(old, new)) == new
