"""The mistakes that are put into the code: what they are, and that each listed one still exists."""

from __future__ import annotations

import ast
import math
from collections.abc import Callable, Iterator

import pytest

from mutations.code_changes import STEERING, Change, changed, changes_of, every_change
from mutations.of_code import ROOT, files, known

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


ROOTS = ROOT / "physics" / "roots.py"
STATES = ROOT / "physics" / "operating_state.py"
HARD: dict[str, tuple[Callable[[float], float], float]] = {
    "steep": (lambda x: math.expm1(3.0 * (x - 7.0)), 7.0),
    "flat": (lambda x: (x + 3.0) ** 3 + 1e-3 * (x + 3.0), -3.0),
    "a jump": (lambda x: -1.0 if x < 0.3 else 1.0, 0.3),
    "small": (lambda x: math.atan(1e3 * (x - 1e-6)), 1e-6),
    "at nothing": (lambda x: math.sinh(x), 0.0),
    "a line": (lambda x: 2.0 * x - 5.0, 2.5),
    "a bend": (lambda x: min(x - 1.0, 1e-6 * (x - 1.0)), 1.0),
}


def steering() -> Iterator[tuple[str, Change]]:
    for path in (ROOTS, STATES):
        for change in every_change(path.read_text()):
            if change.scope in STEERING:
                yield path.name, change


@pytest.mark.parametrize(
    ("file", "change"), [pytest.param(*each, id=f"{each[1].after}") for each in steering()]
)
def test_what_only_steers_a_solver_changes_no_result(file: str, change: Change) -> None:
    spaces: dict[str, dict[str, object]] = {}
    for path in (ROOTS, STATES):
        source = path.read_text()
        tree = changed(source, change) if path.name == file else ast.parse(source)
        spaces[path.name] = {"__name__": path.stem}
        exec(compile(tree, path.name, "exec"), spaces[path.name])
    root, near = spaces[ROOTS.name]["bracketed_root"], spaces[STATES.name]["_near"]
    spaces[STATES.name]["bracketed_root"] = root
    assert callable(root)
    assert callable(near)
    for function, zero in HARD.values():
        assert root(function, -90.0, 40.0, absolute=1e-13) == pytest.approx(zero, abs=1e-12)
        for guess in (zero, zero + 1e-9, zero - 2.0, 1.0, -1.0):
            found = near(guess, lambda x, f=function: -f(x))
            assert found == pytest.approx(zero, rel=1e-12, abs=1e-12)


def test_what_steers_stands_in_one_place() -> None:
    found = {
        (path.name, change.scope)
        for path in files()
        for change in every_change(path.read_text())
        if change.scope in STEERING
    }
    assert {scope for _, scope in found} == STEERING
    assert len(found) == len(STEERING)
