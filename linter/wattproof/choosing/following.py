"""Whatever names a string follows where it is split: joints, wires, bonds, shade, readings."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final, NamedTuple

from wattproof.amend.changes import data_of
from wattproof.amend.edits import NotWritten, with_item, with_value, without
from wattproof.amend.scalars import Data
from wattproof.plan.fields import component_of
from wattproof.plan.root import Plan
from wattproof.plan.ways import FedWire
from wattproof.source import parse

_ENDS: Final = (
    ("wires", "from"),
    ("wires", "to"),
    ("bonds", "from"),
    ("arresters", "across"),
    ("readings", "at"),
)
"""Families that name terminals, and under which keys."""
_OF_EACH: Final = ("bonds", "arresters")
"""Those of them of which each of several arrays has one of its own."""


class Piece(NamedTuple):
    """A string that takes some of the modules of another, and how many."""

    name: str
    modules: int


def with_pieces(text: str, plan: Plan, name: str, pieces: list[Piece], met_at: str) -> str:
    """The text with the strings that one becomes wherever it is named. Raises NotWritten.

    met_at: where the wires end that ended at it: at itself, or at a joint of the pieces; empty
    where these have none.
    """
    for case in plan.shade.values():
        if any(shadow.string == name for shadow in case.shadows):
            text = _with_shadows(text, str(case.name), name, pieces)
    if [piece.name for piece in pieces] == [name]:
        return text
    for bond in plan.frame_bonds.values():
        if name in bond.strings:
            text = _with_names(text, ("frame_bonds", str(bond.name), "strings"), name, pieces)
    for index in reversed([i for i, each in enumerate(plan.accepted) if each.where == name]):
        text = _with_accepted(text, index, pieces)
    for joint in plan.combiners.values():
        if name in joint.joined:
            text = _with_names(text, ("combiners", str(joint.name), "joins"), name, pieces)
    return _with_ends(text, plan, name, pieces, met_at)


def _with_ends(text: str, plan: Plan, name: str, pieces: list[Piece], met_at: str) -> str:
    """Wires, bonds, arresters and readings at what stands in a string's place."""
    for family, key in _ENDS:
        for entry, part in getattr(plan, family).items():
            if isinstance(part, FedWire):
                continue
            root: Any = parse(text, "plan")
            held = data_of(root[family][entry])
            written = str(held.get(key, ""))
            if component_of(written) != name:
                continue
            if not met_at and family not in _OF_EACH:
                raise NotWritten(
                    f"`{name}` is split among inputs then, and `{entry}` is of it as a whole: take "
                    "that out first"
                )
            pole = written[len(name) :]
            text = with_value(text, (family, str(entry), key), (met_at or pieces[0].name) + pole)
            for piece in pieces[1:] if not met_at else ():
                own = {**held, key: piece.name + pole}
                text = with_value(text, (family, f"{entry}-{piece.name}"), own)
    return text


def _with_names(text: str, path: tuple[str | int, ...], name: str, pieces: list[Piece]) -> str:
    """A list of names with the pieces of a string in its place."""
    root: Any = parse(text, "plan")
    for step in path:
        root = root[step]
    held = [root] if isinstance(root, str) else list(root)
    index = next(i for i, each in enumerate(held) if component_of(str(each)) == name)
    first = path if isinstance(root, str) else (*path, index)
    text = with_value(text, first, pieces[0].name)
    for piece in pieces[1:]:
        text = with_item(text, path, piece.name)
    return text


def _with_accepted(text: str, index: int, pieces: list[Piece]) -> str:
    """What is accepted of a string, accepted of each of its pieces."""
    root: Any = parse(text, "plan")
    held = data_of(root["accepted"][index])
    text = with_value(text, ("accepted", index, "where"), pieces[0].name)
    for piece in pieces[1:]:
        text = with_item(text, ("accepted",), {**held, "where": piece.name})
    return text


def _with_shadows(text: str, case: str, name: str, pieces: list[Piece]) -> str:
    """A case of shade with its shadows on the same modules, counted through the pieces."""
    path: tuple[str | int, ...] = ("shade", case, "shadows")
    root: Any = parse(text, "plan")
    held = [data_of(node) for node in root["shade"][case]["shadows"]]
    moved = [list(_moved(shadow, name, pieces)) for shadow in held]
    if not any(moved):
        raise NotWritten(f"`shade` of `{case}` is on modules that are left over: take it out first")
    for index in reversed(range(len(held))):
        if not moved[index]:
            text = without(text, (*path, index))
            continue
        first, *more = moved[index]
        for key, value in first.items():
            if value != held[index][key]:
                text = with_value(text, (*path, index, key), value)
        for each in more:
            text = with_item(text, path, each)
    return text


def _moved(shadow: dict[str, Data], name: str, pieces: list[Piece]) -> Iterator[dict[str, Data]]:
    """A shadow as it falls on the pieces; nowhere where its module is left over."""
    if shadow.get("string") != name:
        yield shadow
        return
    module = shadow.get("module")
    if module is None:
        yield from ({**shadow, "string": piece.name} for piece in pieces)
        return
    if not isinstance(module, str) or not module.isdecimal():
        raise NotWritten(f"a shadow on `{name}` does not tell its module as a number")
    number = int(module)
    for piece in pieces:
        if number <= piece.modules:
            yield {**shadow, "string": piece.name, "module": str(number)}
            return
        number -= piece.modules
