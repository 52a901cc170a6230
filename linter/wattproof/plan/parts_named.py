"""The files that a text of a plan names for its parts, where it cannot be read as a plan too."""

from __future__ import annotations

from wattproof.source import Items, PlanUnusable, Text, parse_on


def parts_named(text: str) -> tuple[str, ...]:
    """What stands under `parts`, one name or several; none of a text that is no YAML mapping."""
    try:
        block, _ = parse_on(text, "")
    except PlanUnusable:
        return ()
    named = block.get(Text("parts"))
    if isinstance(named, Text):
        return (str(named),)
    if not isinstance(named, Items):
        return ()
    return tuple(str(each) for each in named if isinstance(each, Text))
