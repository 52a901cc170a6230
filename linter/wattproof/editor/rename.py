"""Another name for a component, a datasheet or a place, everywhere it stands."""

from __future__ import annotations

from typing import Final

from lsprotocol.types import TextEdit, WorkspaceEdit

from wattproof.editor.documents import Document, Documents
from wattproof.editor.keys import Keys
from wattproof.editor.names import COMPONENT, Name
from wattproof.editor.places import around, standing
from wattproof.plan.fields import read_name
from wattproof.plan.opening import OPEN
from wattproof.plan.terminals import COMMON, POLES
from wattproof.quantities import UNKNOWN, Mistake
from wattproof.source import Place, Text

KEPT: Final = (*COMMON, UNKNOWN, OPEN)
"""Words that mean something else where a name stands."""


class NotRenamed(Exception):
    """A name cannot be changed: why, and what to do."""


def renamed(
    document: Document, name: Name, new: str, keys: Keys, documents: Documents
) -> WorkspaceEdit:
    """What is written for it. Raises NotRenamed where the new name is unfit or taken."""
    _refuse_unfit(name, new)
    found = list(standing(document, name, keys, documents))
    if not any(each.declared for _, each in found):
        raise NotRenamed(f"`{name.text}` is declared nowhere: there is nothing to rename")
    for held in around(document, name, documents):
        taken = next(
            (n for n in held.names(keys) if n.declared and n.is_of == (name.space, new)), None
        )
        if taken is not None:
            line = held.lines.position(taken.start).line + 1
            raise NotRenamed(
                f"the name `{new}` is taken on line {line} of {held.path}: choose another"
            )
    edits: dict[str, list[TextEdit]] = {}
    for held, each in found:
        if not each.plain:
            line = held.lines.position(each.start).line + 1
            raise NotRenamed(
                f"line {line} of {held.path} writes it by signs: write it plainly first"
            )
        edit = TextEdit(held.lines.between(each.start, each.end), new)
        edits.setdefault(held.uri, []).append(edit)
    return WorkspaceEdit(changes=edits)


def _refuse_unfit(name: Name, new: str) -> None:
    try:
        read_name(Text.at(new, Place("", 1, 1, 1, 1)))
    except Mistake as mistake:
        raise NotRenamed(f"{mistake.message}: {mistake.instead}") from None
    if (new in KEPT and name.space == COMPONENT) or new in (UNKNOWN, OPEN):
        raise NotRenamed(f"`{new}` means something else in a plan: write `{new}-part` or the like")
    if name.space.startswith("port:") and new in POLES:
        raise NotRenamed(f"`{new}` is a pole of a terminal: choose another name")
