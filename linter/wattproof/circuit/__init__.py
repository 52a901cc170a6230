"""The circuit: terminals, conductors and devices as a graph with both poles; what feeds what."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit.array_tree import (
    Leaf,
    NotSeriesParallel,
    Parallel,
    Series,
    Tree,
    has_source,
    leaves,
    reduce,
)
from wattproof.circuit.build import Elements
from wattproof.circuit.cuts import Cut, Side, cuts
from wattproof.circuit.elements import (
    Conductor,
    Element,
    Passage,
    Source,
    Terminal,
    is_overcurrent,
    place_of,
)
from wattproof.circuit.nets import Nets, drawn_problems, nominal_class
from wattproof.circuit.past_controllers import fed_load_terminals, uncontrolled_strings
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.root import Plan
from wattproof.plan.terminals import by_name
from wattproof.record import record
from wattproof.source import PlanUnusable, Problem

__all__ = [
    "Array",
    "Circuit",
    "Conductor",
    "Cut",
    "Element",
    "Leaf",
    "Nets",
    "Parallel",
    "Passage",
    "Series",
    "Side",
    "Source",
    "Terminal",
    "Tree",
    "build_circuit",
    "has_source",
    "is_overcurrent",
    "leaves",
    "nominal_class",
    "place_of",
]


@record
class Array:
    """What feeds the solar input of a controller."""

    controller: Controller
    tree: Tree


@record
class Circuit:
    """A plan's circuit.

    arrays: one for each solar input, in the order of the plan.
    battery_side: the two sides of each conductor and device that is not part of an array.
    around: the conductors and devices at each terminal.
    """

    plan: Plan
    elements: tuple[Element, ...]
    nets: Nets
    arrays: tuple[Array, ...]
    battery_side: dict[Conductor | Passage, Cut]
    around: dict[Terminal, tuple[Conductor | Passage, ...]]


def build_circuit(plan: Plan, *, whole: bool = True) -> Circuit:
    """Build the circuit of a plan. Raises PlanUnusable with everything wrong as drawn.

    whole: False where removable parts are taken away, so that their sockets are open ends.
    """
    elements = Elements(plan)
    nets = Nets(elements.all)
    problems = [*elements.problems, *drawn_problems(plan, nets, elements.all, whole=whole)]
    around = _around(elements.all)
    arrays: list[Array] = []
    for controller in plan.controllers.values():
        array = _array(controller, plan, around)
        if isinstance(array, Array):
            arrays.append(array)
        elif array is not None:
            problems.append(array)
    for array in arrays:
        problems.extend(_array_problems(array))
    fed = (leaf.element for array in arrays for leaf in leaves(array.tree))
    controlled = {str(e.string.name) for e in fed if isinstance(e, Source)}
    problems.extend(uncontrolled_strings(plan, around, controlled))
    problems.extend(fed_load_terminals(plan, nets))
    if problems:
        raise PlanUnusable(sorted(set(problems)))
    in_arrays = {leaf.element for array in arrays for leaf in leaves(array.tree)}
    rest = [e for e in elements.all if e not in in_arrays]
    return Circuit(
        plan,
        tuple(elements.all),
        nets,
        tuple(arrays),
        cuts(rest),
        {t: tuple(e for e in es if not isinstance(e, Source)) for t, es in around.items()},
    )


def _around(elements: list[Element]) -> dict[Terminal, list[Element]]:
    around: dict[Terminal, list[Element]] = {}
    for element in elements:
        around.setdefault(element.start, []).append(element)
        around.setdefault(element.end, []).append(element)
    return around


def _array(
    controller: Controller, plan: Plan, around: dict[Terminal, list[Element]]
) -> Array | Problem | None:
    """The array at a controller's input, or what is wrong with it; None where it has none."""
    positive = Terminal(controller.name, "pv", "positive")
    negative = Terminal(controller.name, "pv", "negative")
    if positive not in around and negative not in around:
        return None
    reached, elements = _reach((positive, negative), around)
    trespass = _trespass(reached, controller, plan)
    if trespass is not None:
        return trespass
    try:
        tree = reduce(elements, negative, positive)
    except NotSeriesParallel as odd:
        message = f"the wires of {', '.join(odd.names)} form a bridge, not series and parallel"
        instead = "draw each string from one joint to the next"
        return Problem(controller.at, message, instead)
    if tree is None or not has_source(tree):
        message = f"no string feeds `{controller.name}.pv`"
        instead = "wire both poles of a string to it"
        return Problem(controller.at, message, instead)
    return Array(controller, tree)


def _reach(
    starts: tuple[Terminal, ...], around: dict[Terminal, list[Element]]
) -> tuple[set[Terminal], list[Element]]:
    """Terminals and elements reached from some terminals, in a fixed order."""
    waiting = [t for t in starts if t in around]
    reached = set(waiting)
    elements: dict[Element, None] = {}
    while waiting:
        for element in around[waiting.pop()]:
            elements[element] = None
            for terminal in (element.start, element.end):
                if terminal not in reached:
                    reached.add(terminal)
                    waiting.append(terminal)
    return reached, list(elements)


def _trespass(reached: set[Terminal], controller: Controller, plan: Plan) -> Problem | None:
    """The array reaches the positive of something that is not an array."""
    components = by_name(plan)
    for terminal in sorted(reached):
        component = components.get(terminal.component)
        if terminal.pole != "positive" or component is None:
            continue
        if isinstance(component, Controller):
            if terminal.port == "pv" and component is not controller:
                message = f"one array feeds both `{controller.name}` and `{component.name}`"
                return Problem(component.at, message, "give each controller an array of its own")
            if terminal.port == "pv":
                continue
        if isinstance(component, Battery | Charger | Inverter | Load | Controller):
            shown = ".".join(part for part in terminal[:2] if part)
            message = f"the array is joined to `{shown}` past the controller `{controller.name}`"
            return Problem(component.at, message, "wire the array to the controller's `pv` only")
    return None


def _array_problems(array: Array) -> Iterator[Problem]:
    """Strings the wrong way round, and conductors across a string."""
    sources = [leaf for leaf in leaves(array.tree) if isinstance(leaf.element, Source)]
    turned = [leaf for leaf in sources if not leaf.forward]
    if turned and len(turned) == len(sources):
        message = f"the poles are reversed at `{array.controller.name}.pv`: positive meets negative"
        instead = f"swap the two conductors at `{array.controller.name}.pv`"
        yield Problem(array.controller.at, message, instead)
        return
    for leaf in turned:
        name = leaf.element.name
        message = f"the poles of `{name}` are reversed against the other strings"
        yield Problem(place_of(leaf.element), message, f"swap the two conductors at `{name}`")
    yield from _shorted(array.tree)


def _shorted(tree: Tree) -> Iterator[Problem]:
    if isinstance(tree, Leaf):
        return
    if isinstance(tree, Parallel) and has_source(tree):
        for member in tree.members:
            if not has_source(member):
                element = next(leaves(member)).element
                message = (
                    f"`{element.name}` joins the positive and the negative of an array: a short"
                )
                yield Problem(place_of(element), message, "check which pole each end leads to")
    for member in tree.members:
        yield from _shorted(member)
