"""How much of an installation a plan tells: all of it, or a part."""

from __future__ import annotations

from typing import Any, Final, NamedTuple

from wattproof.plan.families import CONNECTED, JOINING
from wattproof.plan.resemblance import nearest
from wattproof.quantities import Mistake
from wattproof.source import Block, Place, Text

FAMILIES: Final = (*CONNECTED, *JOINING)
"""Families of components, of each of which a plan may tell a part only."""
_WORDS: Final = ("part", "whole")


class Told(NamedTuple):
    """Of which families there may be more than the plan says.

    partly: their names. place: where the plan says so; None where it does not.
    """

    partly: frozenset[str] = frozenset()
    place: Place | None = None

    def is_part(self, family: str) -> bool:
        """Whether there may be more of a family, such as `fuses`, than the plan says."""
        return family in self.partly


WHOLE: Final = Told()


def read_told(node: Any) -> Told:
    """`part`, or a mapping of families to it. Raises Mistake."""
    if isinstance(node, Text):
        partly = FAMILIES if _word(node) == "part" else ()
        return Told(frozenset(partly), node.place)
    if not isinstance(node, Block):
        raise Mistake("this does not say what is told in part", _INSTEAD, node.place)
    found = set()
    for key, value in node.items():
        if key not in FAMILIES:
            near = nearest(key, FAMILIES)
            instead = f"write `{near}`" if near else f"the families are {', '.join(FAMILIES)}"
            raise Mistake(f"there is no family `{key}` of components", instead, key.place)
        if not isinstance(value, Text):
            raise Mistake("this does not say what is told in part", _INSTEAD, value.place)
        if _word(value) == "part":
            found.add(str(key))
    return Told(frozenset(found), node.place)


_INSTEAD: Final = "write `told: part`, or `told: {fuses: part}` for some families"


def _word(node: Text) -> str:
    if node not in _WORDS:
        raise Mistake(f"`{node}` is neither `part` nor `whole`", _INSTEAD, node.place)
    return str(node)


def told_schema() -> dict[str, Any]:
    """Its part of the JSON Schema."""
    word = {"type": "string", "enum": list(_WORDS)}
    names = {"pattern": "^[a-z_]+$", "enum": list(FAMILIES)}
    families = {"type": "object", "additionalProperties": word, "propertyNames": names}
    return {"anyOf": [word, families]}
