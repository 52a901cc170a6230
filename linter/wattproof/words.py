"""Names and other parts in a row, as a sentence has them."""

from __future__ import annotations

from collections.abc import Iterable


def enumerated(parts: Iterable[str]) -> str:
    """Parts in a row: a, b and c. At least one."""
    *others, last = parts
    return " and ".join(filter(None, (", ".join(others), last)))


def quoted(names: Iterable[str]) -> str:
    """Names of a plan in a row, between backticks. At least one."""
    return enumerated(f"`{name}`" for name in names)
