"""The type designation printed on a cable, and what a plan need not say because that says it."""

from __future__ import annotations

from typing import Any

from wattproof.codes.cable_types import cable_type as designated
from wattproof.codes.cable_types import cable_types
from wattproof.plan.fields import Reader
from wattproof.plan.resemblance import nearest
from wattproof.quantities import Mistake, read_quantity
from wattproof.source import Text


def cable_type() -> Reader:
    """A field that holds a type designation that is known."""

    def read(node: Any) -> Text:
        if not isinstance(node, Text):
            raise Mistake("this is not a type of cable", "write it as printed, such as `H1Z2Z2-K`")
        if designated(node) is None:
            names = {name.lower(): name for name in cable_types()}
            near = names.get(nearest(node.lower(), list(names)) or "")
            instead = (
                f"write `{near}`"
                if near
                else "leave it out, and write `kind`, `insulation_temperature` and `voltage`"
            )
            raise Mistake(f"the cable type `{node}` is not known here", instead, node.place)
        return node

    return Reader(
        read, lambda: {"type": "string", "examples": list(cable_types())[:4]}, unknown=True
    )


def said_by(written: Text) -> dict[str, Any]:
    """What a type designation says of a cable, each standing where the type is written."""
    found = designated(written)
    assert found is not None
    said: dict[str, Any] = {}
    for key in ("insulation_temperature", "voltage"):
        text = getattr(found, key)
        if text:
            dimension = "temperature" if key == "insulation_temperature" else "voltage"
            said[key] = read_quantity(Text.at(text, written.place), dimension)
    if found.kind:
        said["kind"] = Text.at(found.kind, written.place)
    for key in ("outdoor", "direct_burial"):
        flag = getattr(found, key)
        if flag is not None:
            said[key] = flag
    if found.strands:
        said["strands"] = Text.at(found.strands, written.place)
    return said
