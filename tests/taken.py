"""Which cases of each test the ordinary run of all tests takes: a few, ever the same ones.

A hundred tests have half of all cases between them: what holds for every plan, rule, table or
figure. What takes long by itself, since it asks something of all builds at once or is the same
again in a browser, is marked as `whole` and left out. Whoever runs a file or a folder gets all
cases of it, and so does `.ci/run` of everything.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, TypeVar

T = TypeVar("T")

AT_MOST: Final = 3


def taken(tests: Sequence[T], test_of: Callable[[T], str]) -> list[T]:
    """Those cases in their order; test_of: what all cases of one test have in common."""
    cases: dict[str, list[int]] = {}
    for number, test in enumerate(tests):
        cases.setdefault(test_of(test), []).append(number)
    return [tests[number] for number in sorted(n for own in cases.values() for n in spread(own))]


def spread(cases: Sequence[T]) -> list[T]:
    """As many as are taken: the first, the last, and evenly between."""
    if len(cases) <= AT_MOST:
        return list(cases)
    return [cases[k * (len(cases) - 1) // (AT_MOST - 1)] for k in range(AT_MOST)]
