"""What can be opened by hand: between an array and its controller, and towards the battery."""

from __future__ import annotations

from collections.abc import Callable, Collection, Container, Iterator
from typing import TypeGuard

from wattproof.circuit import (
    Circuit,
    Leaf,
    Parallel,
    Part,
    Passage,
    Terminal,
    Tree,
    has_source,
    is_of,
)
from wattproof.circuit.walk import Walk
from wattproof.plan.boxes import PowerBox
from wattproof.plan.devices import Breaker, Switch
from wattproof.plan.fields import Named
from wattproof.plan.power import Controller
from wattproof.plan.terminals import POLES
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.limits import exceeds
from wattproof.working import Value, largest

PLUG_VOLTS = 60.0  # V, by the labels
PLUG_AMPS = 15.0  # A, in bright sun
"""What may be parted by unplugging it, for an array that is set up and taken away again."""
NO_ARC = 30.0
"""DC voltage (V) at which strings side by side may be unplugged one after another: an arc between
copper needs some 12 V, and has little left of that to live on (common practice)."""


def opens_by_hand(element: object) -> TypeGuard[Passage]:
    """True for a switch or a breaker."""
    return isinstance(element, Passage) and isinstance(element.device, Switch | Breaker)


def cut_off_by(
    tree: Tree, pole: str | None, two_poles: Callable[[Switch | Breaker], bool]
) -> tuple[Passage, ...]:
    """Switches and breakers that together cut a part of an array off; empty where none do.

    In series any one will do; of branches in parallel each has to have its own. With a pole given,
    only what opens that pole counts; a device of two poles opens both, also where it is drawn in
    the wire of one. two_poles: tells these.
    """
    if isinstance(tree, Leaf):
        element = tree.element
        return (
            (element,) if isinstance(element, Passage) and _opens(element, pole, two_poles) else ()
        )
    if isinstance(tree, Parallel):
        members = [m for m in tree.members if has_source(m)] if has_source(tree) else tree.members
        found = [cut_off_by(member, pole, two_poles) for member in members]
        return tuple(p for passages in found for p in passages) if all(found) else ()
    return next((p for member in tree.members if (p := cut_off_by(member, pole, two_poles))), ())


def left_on(
    tree: Tree, two_poles: Callable[[Switch | Breaker], bool]
) -> tuple[tuple[Passage, ...], tuple[Tree, ...]]:
    """Switches that cut branches of an array off, and the branches that stay on beside them."""
    cutting = cut_off_by(tree, None, two_poles)
    if cutting:
        return cutting, ()
    inner = [tree] if isinstance(tree, Leaf) else [m for m in tree.members if has_source(m)]
    if isinstance(tree, Parallel):
        parts = [left_on(member, two_poles) for member in inner]
        return tuple(p for some, _ in parts for p in some), tuple(t for _, on in parts for t in on)
    if isinstance(tree, Leaf) or len(inner) > 1:
        return (), (tree,)
    return left_on(inner[0], two_poles)


def _opens(
    passage: Passage, pole: str | None, two_poles: Callable[[Switch | Breaker], bool]
) -> bool:
    if not isinstance(passage.device, Switch | Breaker):
        return False
    return pole in (None, passage.pole) or two_poles(passage.device)


def is_unplugged(array: ArrayStudy, setting: str) -> bool:
    """True for a small array that is set up, plugged in, and taken away again.

    On a power box, whose battery no switch takes away, one module after another.
    """
    laid_out = all(s.portable for s in array.declared_strings)
    if not (laid_out or setting == "portable") or exceeds(array.voc("standard"), PLUG_VOLTS):
        return False
    if not exceeds(array.isc("bright"), PLUG_AMPS):
        return True
    on_box = laid_out and isinstance(array.controller, PowerBox)
    return on_box and not exceeds(unplugged_current(array), PLUG_AMPS)


def unplugged_current(array: ArrayStudy) -> Value:
    """What a plug parts at once (A): at a low voltage each string by itself, or else all of it."""
    if array.voc("coldest").number > NO_ARC:
        return array.isc("bright")
    return largest([string.isc("bright") for string in array.all_strings])


def between_controller_and_banks(
    controller: Controller, circuit: Circuit, ties: Collection[Named] = ()
) -> tuple[Passage, ...]:
    """Switches and breakers that part a controller from every bank on a pole; empty without.

    ties: switches that are open meanwhile, where a bank is reached without them.
    """
    if ties and (found := _parting(controller, circuit, ties)):
        return found
    return _parting(controller, circuit, ())


def _parting(
    controller: Controller, circuit: Circuit, ties: Collection[Named]
) -> tuple[Passage, ...]:
    for pole in POLES:
        start = Terminal(controller.name, "battery", pole)
        near, edge = _reach(start, circuit, crossing=False, ties=ties)
        far, _ = _reach(start, circuit, crossing=True, ties=ties)
        banks = {Terminal(name, "", pole) for name in circuit.plan.batteries}
        if banks & far and not banks & near:
            onward = [p for p in edge if banks & _beyond(p, near, circuit, ties)]
            return tuple(onward)
    return ()


def _beyond(
    passage: Passage, near: set[Terminal], circuit: Circuit, ties: Collection[Named]
) -> set[Terminal]:
    """What is reached from the far end of a passage, and not by the way back through it."""
    far = passage.end if passage.start in near else passage.start
    return _reach(far, circuit, crossing=True, shut=near, ties=ties)[0]


def _reach(
    start: Terminal,
    circuit: Circuit,
    *,
    crossing: bool,
    shut: Container[Terminal] = (),
    ties: Collection[Named] = (),
) -> tuple[set[Terminal], list[Passage]]:
    """Terminals reached, with or without crossing what opens by hand, and those left closed."""

    def onward(here: Terminal) -> Iterator[tuple[Part, Terminal]]:
        for part, there in circuit.ways(here):
            passed = crossing or not opens_by_hand(part)
            if there not in shut and passed and not is_of(part, ties):
                yield part, there

    walk = Walk([start], onward)
    if crossing:
        return set(walk), []
    edge = (part for here in walk for part in circuit.around.get(here, ()))
    return set(walk), [p for p in edge if opens_by_hand(p) and not is_of(p, ties)]
