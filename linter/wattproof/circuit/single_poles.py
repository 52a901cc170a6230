"""Wires named without a pole of which one pole alone leads anywhere.

Who draws each pole for itself names it at the battery, and not at every fuse, switch and busbar on
the way. What would be the other conductor of such a wire ends nowhere, and is none.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import permutations
from typing import Final, NamedTuple, TypeAlias

from wattproof.plan.array import Combiner
from wattproof.plan.devices import Busbar
from wattproof.plan.fields import Named
from wattproof.plan.splitting import Selector
from wattproof.plan.terminals import Reached, is_in_the_way

_PASSING: Final = (Busbar, Combiner, Selector)
_Node: TypeAlias = tuple[str, str, str]
_Conductor: TypeAlias = tuple[int, str]


class Joined(NamedTuple):
    """What a wire, or the place of something in a joint, joins at its two ends, pole by pole.

    to: None for a tie, which leads to something of its own.
    """

    name: str
    start: Reached
    to: Reached | None
    poles: tuple[tuple[str, str], ...]


def single_poles(drawn: Iterable[Joined], components: Mapping[str, Named]) -> dict[str, str]:
    """The pole of each that joins two, of which only one leads anywhere, by its name."""
    passing = {
        name
        for name, component in components.items()
        if isinstance(component, _PASSING) or is_in_the_way(component)
    }

    def node(reached: Reached | None, pole: str, tie: str) -> _Node:
        if reached is None:
            return "", tie, pole
        return reached.component, "" if reached.component in passing else reached.port, pole

    at: dict[_Node, set[_Conductor]] = {}
    nodes: dict[_Conductor, tuple[_Node, _Node]] = {}
    each = tuple(drawn)
    for number, (name, start, to, poles) in enumerate(each):
        for first, last in poles:
            conductor = (number, first)
            nodes[conductor] = (node(start, first, name), node(to, last, name))
            for end in nodes[conductor]:
                at.setdefault(end, set()).add(conductor)
    loose = [end for end, conductors in at.items() if end[0] in passing and len(conductors) == 1]
    while loose:
        for conductor in tuple(at[loose.pop()]):
            for end in nodes.pop(conductor):
                at[end].discard(conductor)
                if end[0] in passing and len(at[end]) == 1:
                    loose.append(end)
    return {
        joined.name: first
        for number, joined in enumerate(each)
        for (first, _), (other, _) in permutations(joined.poles, 2)
        if (number, first) in nodes and (number, other) not in nodes
    }
