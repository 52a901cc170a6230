"""Which tests each process begins with: those that take long, each kind of them in one process.

A process is given its part of all tests in their order, and one that has ended takes half of what
another has left, from its end (`--dist worksteal`). So what takes long or shares what is made once,
such as a browser, comes first in the part of one process; what is left for the end is short.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, TypeVar

T = TypeVar("T")

KINDS: Final[dict[str, tuple[int, tuple[str, ...]]]] = {
    "pages": (
        110,
        ("browser/", "reports/", "cli/test_watch"),
    ),
    "choosing": (40, ("choosing/",)),
    "builds": (20, ("external/test_builds", "external/test_typical_plans")),
    "digests": (15, ("study/test_nothing_moves",)),
    "editor": (15, ("editor/",)),
    "documentation": (15, ("docs/",)),
    "plausible plans": (10, ("corpus/", "remedies/")),
}
"""Each kind: how long it takes (s, roughly), and how the files begin that hold its tests."""


def kind_of(file: str) -> str | None:
    """The kind of the tests of a file below `tests/`; None where they are short."""
    for kind, (_, starts) in KINDS.items():
        if file.startswith(starts):
            return kind
    return None


def dealt(tests: Sequence[T], file_of: Callable[[T], str], processes: int) -> list[T]:
    """All tests in the order in which so many processes take them, each an equal part of it."""
    kinds: dict[str | None, list[T]] = {}
    for test in tests:
        kinds.setdefault(kind_of(file_of(test)), []).append(test)
    short = kinds.pop(None, [])
    first: list[list[T]] = [[] for _ in range(processes)]
    seconds = [0] * processes
    for kind in sorted((k for k in kinds if k), key=lambda k: -KINDS[k][0]):
        least = seconds.index(min(seconds))
        first[least] += kinds[kind]
        seconds[least] += KINDS[kind][0]
    sizes = [(len(tests) + k) // processes for k in range(processes)]
    for own, size in zip(first, sizes, strict=True):
        short += own[size:]
        del own[size:]
    found: list[T] = []
    for own, size in zip(first, sizes, strict=True):
        room = size - len(own)
        found += own + short[:room]
        del short[:room]
    return found
