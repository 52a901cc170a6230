"""Names and other parts in a row, as a sentence has them."""

from __future__ import annotations

from collections.abc import Iterable


def enumerated(parts: Iterable[str]) -> str:
    """Parts in a row: a, b and c. At least one."""
    *others, last = parts
    return " and ".join(filter(None, (", ".join(others), last)))


def quoted(names: Iterable[str]) -> str:
    """Names of a plan in a row, between backticks. At least one."""
    return enumerated(quoted_one(name) for name in names)


def quoted_one(name: str) -> str:
    """A name of a plan between backticks; of a datasheet that no plan holds, whose it is."""
    kind, of, owner = name.partition(" of ")
    return f"the {kind} of `{owner}`" if of else f"`{name}`"
