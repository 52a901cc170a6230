"""The mistakes that are put into the code: what they are, and that each listed one still exists."""

from __future__ import annotations

import ast

import pytest

from mutations.code_changes import changed, changes_of
from mutations.of_code import ROOT, known

SOURCE = '''\
"""A file."""

LIMIT = 5.0
NAME = "text"


def judged(values: list[float], limit: float = 3.0) -> bool:
    """Nothing of this is changed: 1 < 2."""
    if not values or max(values, default=0.0) > limit:
        return f"{limit > 2}" == "True"
    return exceeds(sum(values), limit) and min(limit, LIMIT) < 1e-9 and limit < LIMIT * (1.0 + 1e-9)
'''


def after(kind: str) -> set[str]:
    return {change.after for change in changes_of(SOURCE) if change.kind == kind}


@pytest.mark.parametrize(
    ("kind", "found"),
    [
        ("boundary", {"max(values, default=0.0) >= limit"}),
        ("constant", {"5.5", "1.0", "1.1"}),
        ("forgotten", {"limit", "LIMIT"}),
        ("choice", {"min(values, default=0.0)", "max(limit, LIMIT)", "max(values, default=0)"}),
        ("swap", {"exceeds(limit, sum(values))"}),
        ("arithmetic", {"LIMIT / (1.0 + 1e-09)", "1.0 - 1e-09"}),
    ],
)
def test_what_is_put_in(kind: str, found: set[str]) -> None:
    assert after(kind) == found


def test_texts_annotations_and_defaults_are_left_alone() -> None:
    every = {change.before for change in changes_of(SOURCE)}
    assert "3.0" not in every
    assert "limit > 2" not in every


def test_what_is_the_same_either_way_round_is_not_swapped() -> None:
    swaps = {
        call: [change.after for change in changes_of(f"def f(a, b):\n    return {call}\n")]
        for call in ("self._join(a, b)", "math.hypot(a, b)", "math.pow(a, b)")
    }
    assert [len(found) for found in swaps.values()] == [0, 0, 1]


def test_each_is_one_change_and_can_be_compiled() -> None:
    whole = ast.dump(ast.parse(SOURCE))
    for change in changes_of(SOURCE):
        tree = changed(SOURCE, change)
        compile(tree, "file.py", "exec")
        assert ast.dump(tree) != whole
        assert change.scope in ("judged", "LIMIT")


def test_each_survivor_is_still_in_the_code() -> None:
    for key, reason in known().items():
        found = list(changes_of((ROOT / key.file).read_text()))
        ways = {(c.scope, c.before, c.after) for c in found} | {(c.scope, "", "") for c in found}
        assert key[1:] in ways, f"{key.file}: {key.before} is gone: {reason}"
