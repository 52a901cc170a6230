"""The body of rules that a plan is calculated by: one, or one for each side."""

from __future__ import annotations

from typing import Any, NamedTuple

from wattproof.codes import known
from wattproof.plan.resemblance import nearest
from wattproof.quantities import Mistake
from wattproof.source import Block, Place, Text

SIDES = ("array", "battery")
EXAMPLE = "code: {array: nec-2023, battery: abyc-e11}"


class Code(NamedTuple):
    """Ids of the bodies of rules for the array side and for the battery side."""

    array: Text
    battery: Text
    place: Place


def read_code(node: Any) -> Code:
    """`nec-2023`, or `{array: nec-2023, battery: abyc-e11}`. Raises Mistake."""
    if isinstance(node, Text):
        one = _known(node)
        return Code(one, one, node.place)
    if not isinstance(node, Block):
        place = getattr(node, "place", None)
        raise Mistake(
            "this is not a body of rules", f"write `code: nec-2023` or `{EXAMPLE}`", place
        )
    for key in node:
        if key not in SIDES:
            near = nearest(str(key), SIDES)
            instead = f"write `{near}`" if near else f"write `{EXAMPLE}`"
            raise Mistake(f"`code` has no key `{key}`", instead, key.place)
    for side in SIDES:
        if side not in node:
            message = f"`code` names no body of rules for the {side} side"
            raise Mistake(message, f"name both, as in `{EXAMPLE}`", node.place)
    named = {str(key): value for key, value in node.items()}
    return Code(_known(named["array"]), _known(named["battery"]), node.place)


def _known(node: Any) -> Text:
    if not isinstance(node, Text):
        place = getattr(node, "place", None)
        raise Mistake("this is not the id of a body of rules", f"write `{EXAMPLE}`", place)
    if node not in known():
        from wattproof.plan.hints.values import meant_word  # of what is wrong only

        instead = meant_word(node, known())
        if not instead and (near := nearest(node, known())):
            instead = f"write `{near}`"
        instead = instead or f"use one of {', '.join(known())}"
        raise Mistake(f"`{node}` is none of {', '.join(known())}", instead, node.place)
    return node


def code_schema() -> dict[str, Any]:
    """Either form, as JSON Schema."""
    one = {"type": "string", "enum": list(known())}
    told = {
        "array": ("The body for the array, up to the controllers.", "nec-2023"),
        "battery": ("The body for what hangs on the batteries.", "abyc-e11"),
    }
    sides = {
        side: {**one, "description": words, "examples": [example]}
        for side, (words, example) in told.items()
    }
    both = {
        "type": "object",
        "properties": sides,
        "required": list(SIDES),
        "additionalProperties": False,
    }
    return {"anyOf": [one, both]}
