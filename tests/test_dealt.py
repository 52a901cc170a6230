"""Every test is dealt once, and each process begins with whole kinds of long ones."""

from __future__ import annotations

from itertools import pairwise

import pytest

from dealt import KINDS, dealt, kind_of

SHORT = [f"codes/test_{k}.py" for k in range(400)]
TESTS = sorted([*SHORT, *(f"{starts[0]}{k}" for _, starts in KINDS.values() for k in range(30))])


@pytest.mark.parametrize("processes", [1, 2, 3, 8, 64])
def test_each_is_there_once(processes: int) -> None:
    assert sorted(dealt(TESTS, str, processes)) == TESTS


@pytest.mark.parametrize("processes", [2, 3, 4])
def test_each_kind_is_whole_at_the_start_of_one_part_and_in_its_order(processes: int) -> None:
    found = dealt(TESTS, str, processes)
    ends = [sum((len(TESTS) + k) // processes for k in range(n)) for n in range(processes + 1)]
    parts = [found[start:end] for start, end in pairwise(ends)]
    for kind in KINDS:
        own = [test for test in TESTS if kind_of(test) == kind]
        [part] = [part for part in parts if set(own) & set(part)]
        at = part.index(own[0])
        assert part[at : at + len(own)] == own
        assert all(kind_of(test) for test in part[:at])
