"""What stands beside a component, as far as wires lead with nothing but devices between."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable

from wattproof.plan.wiring import Wire


def beside(
    name: str, wires_at: Callable[[str], Iterable[Wire]], in_the_way: Container[str]
) -> set[str]:
    """Names of what wires join to a component, and of the devices in the way, with its own.

    wires_at: the wires that lead to something. in_the_way: the fuses, switches and the like.
    """
    near, left = {name}, [name]
    while left:
        others = {end for wire in wires_at(left.pop()) for end in wire.components} - near
        near |= others
        left += [other for other in others if other in in_the_way]
    return near
