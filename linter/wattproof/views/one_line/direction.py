"""Which end of each wire is nearer to the sources, so that a diagram can run from them to loads.

Wires are followed up to what has an input and an output: controllers and panels. What lies between
those is a stretch of its own, in which wires lead away from its sources, and in an array towards
the controller.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeAlias

from wattproof.circuit.walk import Walk
from wattproof.plan.converting import Converter
from wattproof.plan.devices import Distribution
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.root import Plan
from wattproof.plan.splitting import Isolator
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import COMMON, is_in_the_way, is_solar_input

Node: TypeAlias = tuple[str, str]
"""A component, and its port where each port is a stretch of its own."""
APART = (Controller, Distribution, Converter, Isolator)
"""Components whose ports are stretches of their own."""

Ends: TypeAlias = tuple[Node, Node]
"""Component and port at the start and at the end of a wire."""


def downstream(plan: Plan, components: dict[str, Named], wires: Sequence[Ends]) -> list[bool]:
    """For each wire, whether current leads from its end to its start rather than along it."""
    ends = [
        (_node(start, components, i), _node(to, components, i))
        for i, (start, to) in enumerate(wires)
    ]
    around: dict[Node, list[Node]] = {}
    for start, to in (*ends, *_joined(plan)):
        around.setdefault(start, []).append(to)
        around.setdefault(to, []).append(start)
    heights: dict[Node, int] = {}
    for node in around:
        if node not in heights:
            heights.update(_heights(list(_distances([node], around)), around, components))
    ranks = {node: (height, -n) for n, (node, height) in enumerate(heights.items())}
    turned = [_turned(start, to, ranks, components) for start, to in ends]
    return _through_devices(ends, turned, components)


def _through_devices(
    ends: list[Ends], turned: list[bool], components: dict[str, Named]
) -> list[bool]:
    """The same, so that current passes what lies between wires, where a ring closes at it.

    Of those that lead there one is turned: of a battery first, and of another such device last.
    """
    turned = list(turned)
    at: dict[Node, list[int]] = {}
    for i, pair in enumerate(ends):
        for node in pair:
            if node[0] in components and is_in_the_way(components[node[0]]):
                at.setdefault(node, []).append(i)
    for node, wires in at.items():
        into = {_led(ends[i], turned[i])[1] == node for i in wires}
        if len(wires) < 2 or len(into) != 1:
            continue
        others = [next((n for n in ends[i] if n != node), node) for i in wires]
        last = [_comes_last(other, at, components) for other in others]
        for _, i in sorted(zip(last, wires, strict=True)):
            tried = [*turned[:i], not turned[i], *turned[i + 1 :]]
            if not _goes_round(node[0], ends, tried):
                turned = tried
                break
    return turned


def _comes_last(
    node: Node, devices: dict[Node, list[int]], components: dict[str, Named]
) -> tuple[bool, bool]:
    """By what a wire that ends at a node is turned: of a battery first, of a device last."""
    return node in devices, not isinstance(components.get(node[0]), Battery)


def _led(pair: Ends, turned: bool) -> Ends:
    """The upper and the lower end of a wire."""
    return (pair[1], pair[0]) if turned else pair


def _goes_round(name: str, ends: list[Ends], turned: list[bool]) -> bool:
    """True where a way down leads back to a component."""
    below: dict[str, list[str]] = {}
    for pair, is_turned in zip(ends, turned, strict=True):
        upper, lower = _led(pair, is_turned)
        below.setdefault(upper[0], []).append(lower[0])
    walk = Walk(below.get(name, []), lambda each: ((None, n) for n in below.get(each, [])))
    return name in walk.carried(0, lambda steps, _: steps + 1)


def _turned(
    start: Node, to: Node, ranks: dict[Node, tuple[int, int]], components: dict[str, Named]
) -> bool:
    sides = _side(start, components), _side(to, components)
    if sides[0] != sides[1]:
        return sides[0] > sides[1]
    return ranks[start] < ranks[to]


def _node(end: Node, components: dict[str, Named], wire: int) -> Node:
    component = components.get(end[0])
    if end[0] in COMMON:
        return end[0], str(wire)  # the ground parts what meets in it
    return end if isinstance(component, APART) else (end[0], "")


def _joined(plan: Plan) -> Iterable[Ends]:
    """What joints name, plugged in or brought by a wire."""
    for name, combiner in plan.combiners.items():
        for joined in combiner.joined:
            yield (joined, ""), (str(name), "")


def _side(node: Node, components: dict[str, Named]) -> int:
    """-1 for what gives only, 1 for what takes only, 0 for what current passes."""
    name, port = node
    component = components.get(name)
    if isinstance(component, Controller):
        return 1 if port == "alternator" or is_solar_input(component, port) else -1
    if isinstance(component, Converter | Isolator):
        return 1 if port == "input" else -1
    if isinstance(component, Distribution):
        return -1 if port else 1
    if isinstance(component, Inverter | Load | Starter) or name in COMMON:
        return 1
    return -1 if isinstance(component, Charger) else 0


def _heights(
    nodes: list[Node], around: dict[Node, list[Node]], components: dict[str, Named]
) -> dict[Node, int]:
    """How far above the lowest each node of a stretch is."""
    inputs = [n for n in nodes if is_solar_input(components.get(n[0]), n[1])]
    if inputs:
        return _distances(inputs, around)
    starts = [n for n in nodes if _side(n, components) < 0]
    starts = starts or [n for n in nodes if isinstance(components.get(n[0]), Battery)] or nodes[:1]
    return {node: -away for node, away in _distances(starts, around).items()}


def _distances(starts: list[Node], around: dict[Node, list[Node]]) -> dict[Node, int]:
    """Wires between some nodes and each that they reach."""
    walk = Walk(starts, lambda node: ((None, other) for other in around[node]))
    return walk.carried(0, lambda steps, _: steps + 1)
