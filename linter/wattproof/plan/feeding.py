"""What a component feeds by wires that nobody has told yet: `feeds: tracker`."""

from __future__ import annotations

from typing import Annotated, Any, Final, NamedTuple, TypeAlias

from wattproof.plan.fields import REFERENCE_SCHEMA, Reader, quantity, read_reference
from wattproof.plan.resemblance import nearest
from wattproof.quantities import UNKNOWN, Mistake, Quantity
from wattproof.source import Block, Place, Text

_FORM: Final = "write `feeds: tracker`, or `feeds: {to: tracker, length: 5 m}`"
_LENGTH: Final = quantity("length")


class Feeds(NamedTuple):
    """What a component feeds. length: of the way there, None where nobody told it."""

    to: Text
    length: Quantity | None
    place: Place


def read_feeds(node: Any) -> Feeds:
    """A name, or a mapping with `to` and `length`. Raises Mistake."""
    if isinstance(node, Text):
        return Feeds(read_reference(node), None, node.place)
    if not isinstance(node, Block):
        message = "this is a list, and a component feeds one other"
        raise Mistake(message, f"{_FORM}; lead the rest from a busbar", node.place)
    for key in node:
        if key not in ("to", "length"):
            near = nearest(key, ("to", "length"))
            instead = f"write `{near}`" if near else "the keys here are to, length; what else is "
            instead += "" if near else "known of the way belongs under `wires`"
            raise Mistake(f"`feeds` has no key `{key}`", instead, key.place)
    told: dict[str, Any] = {str(key): value for key, value in node.items()}
    if "to" not in told:
        raise Mistake("`feeds` does not say what it feeds", _FORM, node.place)
    if not isinstance(told["to"], Text):
        raise Mistake("a component feeds one other", _FORM, told["to"].place)
    to, length = read_reference(told["to"]), told.get("length")
    unknown = length is None or length == UNKNOWN
    return Feeds(to, None if unknown else _LENGTH.read(length), to.place)


def _schema() -> dict[str, Any]:
    length = _LENGTH.schema()
    length["pattern"] = f"^({UNKNOWN}|{length['pattern'][1:-1]})$"
    length["description"] = "Length one way; left out where nobody has measured it."
    length["examples"] = ["5 m"]
    way = {
        "type": "object",
        "properties": {
            "to": {**REFERENCE_SCHEMA, "description": "What it feeds.", "examples": ["tracker"]},
            "length": length,
        },
        "required": ["to"],
        "additionalProperties": False,
    }
    return {"anyOf": [REFERENCE_SCHEMA, way]}


FeedsField: TypeAlias = Annotated[Feeds, Reader(read_feeds, _schema)]
