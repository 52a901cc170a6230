"""What lies in series in an array: with each string, and with strings that are taken away."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Leaf, Series, Source, Tree, has_source
from wattproof.record import record
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.strings import StringStudy
from wattproof.working import Value, total


@record
class Broken:
    """A part of an array in series that opens when its portable strings are taken away.

    fixed, portable: its strings. dead: power (W) of the fixed ones, which then give nothing.
    """

    fixed: tuple[StringStudy, ...]
    portable: tuple[StringStudy, ...]
    dead: Value


def in_series_with(array: ArrayStudy) -> tuple[tuple[StringStudy, int], ...]:
    """Each string with the most modules in series on a way through it, its own counted."""
    return tuple(_counted(array, array.tree, 0))


def broken_without_portable(array: ArrayStudy) -> tuple[Broken, ...]:
    """Where taking away the portable strings opens a circuit that fixed strings are in."""
    return tuple(_broken(array, array.tree))


def _counted(array: ArrayStudy, tree: Tree, beside: int) -> Iterator[tuple[StringStudy, int]]:
    if isinstance(tree, Leaf):
        if isinstance(tree.element, Source):
            string = array.strings[tree.element]
            yield string, beside + len(string.modules)
        return
    members = [member for member in tree.members if has_source(member)]
    for member in members:
        others = 0
        if isinstance(tree, Series):
            others = sum(array.in_series(other) for other in members if other is not member)
        yield from _counted(array, member, beside + others)


def _broken(array: ArrayStudy, tree: Tree) -> Iterator[Broken]:
    if isinstance(tree, Leaf):
        return
    strings = array.strings_of(tree)
    fixed = tuple(s for s in strings if not s.source.string.portable)
    if isinstance(tree, Series) and fixed and _opens(tree):
        portable = tuple(s for s in strings if s.source.string.portable)
        powers = [s.vmp("standard") * s.imp("standard") for s in fixed]
        words = "power of the strings that give nothing then"
        yield Broken(fixed, portable, total(powers).named("Pdead", words, "W"))
        return
    for member in tree.members:
        yield from _broken(array, member)


def _opens(tree: Tree) -> bool:
    """True where no way is left through a part when its portable strings are taken away."""
    if isinstance(tree, Leaf):
        return isinstance(tree.element, Source) and bool(tree.element.string.portable)
    opened = [_opens(member) for member in tree.members]
    return any(opened) if isinstance(tree, Series) else all(opened)
