"""What runs at once: lists of consumers, each of what may run at the same time."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from wattproof.plan.fields import NAME_SCHEMA, Reader, list_of, read_name
from wattproof.quantities import Mistake
from wattproof.source import Items, Text


def read_together() -> Reader:
    """A field that holds one list of names, or several."""
    one = list_of(read_name, NAME_SCHEMA)

    def read(node: Any) -> tuple[tuple[Text, ...], ...]:
        if not isinstance(node, Items):
            message = "this is no list of what runs at once"
            raise Mistake(message, "write `[[mains, refrigerator], [windlass]]`")
        lists = [node] if not any(isinstance(each, Items) for each in node) else list(node)
        return tuple(one.read(each) for each in lists)

    def schema() -> dict[str, Any]:
        names = {"type": "array", "items": NAME_SCHEMA, "minItems": 1}
        either = {"anyOf": [names, NAME_SCHEMA]}
        return {"anyOf": [names, {"type": "array", "items": either, "minItems": 1}]}

    return Reader(read, schema)


def on_at_once(lists: Sequence[Sequence[str]], weighed: Sequence[tuple[str, float]]) -> list[bool]:
    """Which of some consumers, each with what it weighs, are on where they weigh the most together.

    lists: of what may run at once; empty where everything may.
    """
    if not lists:
        return [True] * len(weighed)
    known = {name for names in lists for name in names}
    heaviest = max(
        ({*names} for names in lists),
        key=lambda names: sum(weight for name, weight in weighed if name in names),
        default=set(),
    )
    return [name not in known or name in heaviest for name, _ in weighed]
