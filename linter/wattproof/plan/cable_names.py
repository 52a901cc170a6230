"""The name of a cable's datasheet, and what to write where somebody gave a size in its place."""

from __future__ import annotations

import re
from typing import Annotated, Any, TypeAlias

from wattproof.plan.fields import NAME_SCHEMA, Reader, read_name
from wattproof.quantities import Mistake, read_quantity
from wattproof.source import Text


def declared(written: Text) -> str:
    """What to write of a cable that is told by its size; empty where a text is no size."""
    try:
        size = read_quantity(written, "conductor size")
    except Mistake:
        return ""
    words = re.findall("[a-z]+|[0-9]+", size.text.lower().replace("²", "2"))
    figures = [word for word in words if word.isdecimal()]
    unit = "mm2" if "mm" in words else "awg"
    name = "-".join((unit, *figures[: 1 if unit == "mm2" else 2]))
    return (
        f"declare it under `datasheets: cables:` as `{name}: {{size: {size.text}}}`, and write "
        f"`cable: {name}` here"
    )


def _read(node: Any) -> Text:
    try:
        return read_name(node)
    except Mistake as mistake:
        if not isinstance(node, Text):
            raise
        instead = declared(node)
        if not instead and re.search(r"[0-9] ?(mm|AWG|awg|ga)", node):
            read_quantity(node, "conductor size")  # tells why it is none
        if not instead:
            raise
        message = f"`{node}` is a size, and a wire names the datasheet of its cable"
        raise Mistake(message, instead, mistake.place) from None


CableName: TypeAlias = Annotated[Text, Reader(_read, lambda: NAME_SCHEMA, unknown=True)]
"""The name of a cable's datasheet, which need not be known."""
