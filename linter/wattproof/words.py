"""Names and other parts in a row, and shares, as a sentence has them."""

from __future__ import annotations

import math
from collections.abc import Iterable


def enumerated(parts: Iterable[str]) -> str:
    """Parts in a row: a, b and c; empty of none."""
    row = list(parts)
    return " and ".join(filter(None, (", ".join(row[:-1]), *row[-1:])))


def stood(selectors: Iterable[str], opened: Iterable[str]) -> str:
    """How switches stand: turned to one bank alone, or open. At least one."""
    turned, apart = (
        enumerated(map(quoted_one, names)) if names else ""
        for names in (tuple(selectors), tuple(opened))
    )
    ways = (turned and f"{turned} on it alone", apart and f"{apart} open")
    return "with " + enumerated(filter(None, ways))


def giving_nothing(count: int, strings: int) -> str:
    """That so many of some strings side by side would explain a low current."""
    return f"as where {count} of {strings} strings {'gives' if count == 1 else 'give'} nothing"


def rounded_up(share: float) -> str:
    """A share in per cent, with one digit after the point, never less than it is."""
    return f"{math.ceil(share * 1000.0 - 1e-6) / 10.0:g} %"


def quoted(names: Iterable[str]) -> str:
    """Names of a plan in a row, between backticks; empty of none."""
    return enumerated(quoted_one(name) for name in names)


def quoted_one(name: str) -> str:
    """A name of a plan between backticks; of a datasheet that no plan holds, whose it is."""
    kind, of, owner = name.partition(" of ")
    return f"the {kind} of `{owner}`" if of else f"`{name}`"
