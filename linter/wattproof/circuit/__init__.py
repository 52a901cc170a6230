"""The circuit: terminals, conductors and devices as a graph with both poles; what feeds what."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from collections.abc import Set as AbstractSet

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
from wattproof.circuit.crossed import Crossed, crossed
from wattproof.circuit.cuts import Cut, Side, cuts
from wattproof.circuit.elements import (
    Conductor,
    Element,
    Part,
    Passage,
    Source,
    Terminal,
    is_of,
    is_overcurrent,
    is_relay,
    other_end,
    place_of,
)
from wattproof.circuit.ends import Ends
from wattproof.circuit.exchanged import exchanged_controller
from wattproof.circuit.inside import Inside, insides
from wattproof.circuit.nets import Nets, Unlike, drawn_problems, hazard_at, nominal_class
from wattproof.circuit.one_return import have_one_return, returns_joined
from wattproof.circuit.past_controllers import (
    Stranded,
    Uncontrolled,
    fed_load_terminals,
    stranded_sources,
    turned_strings,
    uncontrolled_strings,
)
from wattproof.circuit.unfed import unfed
from wattproof.circuit.unused import Unused, unused
from wattproof.circuit.walk import Walk, steps
from wattproof.plan.devices import Switch
from wattproof.plan.fields import Named
from wattproof.plan.power import Battery, Charger, Controller, Inverter, Load
from wattproof.plan.root import Plan
from wattproof.plan.splitting import Selector
from wattproof.plan.starting import Starter
from wattproof.plan.terminals import is_solar_input, solar_inputs
from wattproof.record import record
from wattproof.source import PlanUnusable, Problem

__all__ = [
    "Array",
    "Circuit",
    "Conductor",
    "Crossed",
    "Cut",
    "Element",
    "Inside",
    "Leaf",
    "Nets",
    "Parallel",
    "Part",
    "Passage",
    "Series",
    "Side",
    "Source",
    "Terminal",
    "Tree",
    "Uncontrolled",
    "Unlike",
    "Unused",
    "build_circuit",
    "has_source",
    "is_of",
    "is_overcurrent",
    "is_relay",
    "leaves",
    "nominal_class",
    "other_end",
    "place_of",
]


@record
class Array:
    """What feeds a solar input of a controller.

    controller: with the limits of that input. port: the input's name.
    """

    controller: Controller
    tree: Tree
    port: str = "pv"


@record
class Circuit:
    """A plan's circuit.

    ends: what references of the plan lead to.
    arrays: one for each solar input, in the order of the plan.
    battery_side: the two sides of each conductor and device that is not part of an array.
    around: the conductors and devices at each terminal.
    insides: ways through components, which join no nets.
    uncontrolled: strings that feed something with no controller between.
    unused: components that are declared, and that nothing uses. stranded: controllers and chargers
    whose output leads to no battery. unfed: loads, inverters and starters that nothing feeds.
    crossed: poles that are led to a bar or device of the other pole, whose parts are in neither of
    those two.
    whole: False where removable parts are taken away.
    regulated: strings that feed something by the regulator on their modules.
    unlike: consumers and chargers on a bank of another nominal voltage than theirs.
    """

    plan: Plan
    ends: Ends
    elements: tuple[Element, ...]
    nets: Nets
    arrays: tuple[Array, ...]
    battery_side: dict[Part, Cut]
    around: dict[Terminal, tuple[Part, ...]]
    insides: tuple[Inside, ...] = ()
    uncontrolled: tuple[Uncontrolled, ...] = ()
    unused: tuple[Unused, ...] = ()
    stranded: tuple[Stranded, ...] = ()
    unfed: tuple[Load | Inverter | Starter, ...] = ()
    crossed: tuple[Crossed, ...] = ()
    whole: bool = True
    regulated: tuple[Uncontrolled, ...] = ()
    unlike: tuple[Unlike, ...] = ()

    @property
    def components(self) -> dict[str, Named]:
        """Every component that has terminals, by name."""
        return self.ends.components

    def ways(self, here: Terminal) -> Iterator[tuple[Part, Terminal]]:
        """The conductors and devices at a terminal, each with its far end."""
        for part in self.around.get(here, ()):
            yield part, other_end(part, here)

    def walk(
        self, *starts: Terminal, passes: Callable[[Part], bool] | None = None
    ) -> Walk[Terminal, Part]:
        """What conductors and devices lead to. passes: which of them, all if it is left out."""
        if passes is None:
            return Walk(starts, self.ways)
        return Walk(starts, lambda here: (way for way in self.ways(here) if passes(way[0])))

    def joined_for_good(self, start: Terminal) -> frozenset[Terminal]:
        """What a terminal is joined to without a switch between."""
        return frozenset(self.walk(start, passes=lambda part: not _is_switch(part)))

    def joined_in_use(self, start: Terminal) -> frozenset[Terminal]:
        """What a terminal is joined to without a switch between, its main switch closed.

        That is a switch that it needs to reach any battery: what is behind it counts where that is
        one battery's, or several's that no switch parts.
        """
        banks = [Terminal(name, "", "positive") for name in self.plan.batteries]
        here = for_good = self.joined_for_good(start)
        while here.isdisjoint(banks):
            beyond = {far for at in here for part, far in self.ways(at) if _is_switch(part)} - here
            if not beyond:
                return here
            here |= frozenset(self.walk(*beyond, passes=lambda part: not _is_switch(part)))
        reached = [bank for bank in banks if bank in here]
        behind = self.joined_for_good(reached[0])
        return here if behind.issuperset(reached) else for_good

    def turned_to(
        self, start: Terminal, opened: AbstractSet[Part] = frozenset()
    ) -> tuple[frozenset[Terminal], tuple[str, ...]]:
        """What a terminal is joined to with every selector turned to its side alone.

        And the names of the selectors that it is a side of. opened: parts that are open too.
        """
        joined, own = self._turned(start, _is_side, opened)
        return joined, tuple(sorted({str(part.name) for part in own}))

    def ever_joined(self, start: Terminal) -> frozenset[Terminal]:
        """What a terminal is joined to in some position of selectors that never join both sides."""
        return self._turned(start, _is_side_for_good, frozenset())[0]

    def _turned(
        self, start: Terminal, is_side: Callable[[Part], bool], opened: AbstractSet[Part]
    ) -> tuple[frozenset[Terminal], set[Part]]:
        """What a terminal is joined to by its own sides of selectors alone; and these sides."""

        def beyond(own: AbstractSet[Part]) -> Walk[Terminal, Part]:
            return self.walk(
                start, passes=lambda p: p not in opened and (p in own or not is_side(p))
            )

        near = (part for here in beyond(frozenset()) for part, _ in self.ways(here))
        own = {part for part in near if is_side(part)}
        return frozenset(beyond(own)), own


def _is_switch(part: Part) -> bool:
    return isinstance(part, Passage) and isinstance(part.device, Switch)


def _is_side(part: Part) -> bool:
    return isinstance(part, Passage) and isinstance(part.device, Selector)


def _is_side_for_good(part: Part) -> bool:
    """True for the way through one side of a selector that never joins both."""
    device = part.device if isinstance(part, Passage) else None
    return isinstance(device, Selector) and not device.both


def build_circuit(plan: Plan, *, whole: bool = True) -> Circuit:
    """Build the circuit of a plan. Raises PlanUnusable with everything wrong as drawn.

    whole: False where removable parts are taken away, so that their sockets are open ends.
    """
    elements = Elements(plan)
    nets = Nets(elements.all, elements.shared)
    drawn = list(drawn_problems(plan, nets, elements.all, elements.ends, whole=whole))
    problems = [*elements.problems, *(each for each in drawn if isinstance(each, Problem))]
    around = _around(elements.all)
    arrays: list[Array] = []
    for controller in plan.all_controllers.values():
        for port in solar_inputs(controller):
            array = _array(controller, port, elements.ends.components, around)
            if isinstance(array, Array):
                arrays.append(array)
            elif array is not None:
                problems.append(array)
    for array in arrays:
        problems.extend(_array_problems(array))
    fed = (leaf.element for array in arrays for leaf in leaves(array.tree))
    controlled = {str(e.string.name) for e in fed if isinstance(e, Source)}
    problems.extend(turned_strings(plan, nets, controlled))
    problems.extend(fed_load_terminals(plan, elements.all, elements.shared))
    if problems:
        raise PlanUnusable(sorted(set(problems)))
    ways = tuple(insides(plan))
    in_arrays = {leaf.element for array in arrays for leaf in leaves(array.tree)}
    rest = [e for e in elements.all if e not in in_arrays]
    past = plan, around, controlled, elements.ends.components
    return Circuit(
        plan,
        elements.ends,
        tuple(elements.all),
        nets,
        tuple(arrays),
        cuts(rest),
        {t: tuple(e for e in es if not isinstance(e, Source)) for t, es in around.items()},
        ways,
        tuple(uncontrolled_strings(*past, regulated=False)),
        *(_amiss(plan, elements, nets, around, ways) if whole else ((), (), (), ())),
        whole,
        tuple(uncontrolled_strings(*past, regulated=True)),
        tuple(each for each in drawn if isinstance(each, Unlike)),
    )


def _amiss(
    plan: Plan,
    elements: Elements,
    nets: Nets,
    around: dict[Terminal, list[Element]],
    ways: tuple[Inside, ...],
) -> tuple[
    tuple[Unused, ...],
    tuple[Stranded, ...],
    tuple[Load | Inverter | Starter, ...],
    tuple[Crossed, ...],
]:
    """What is unused, stranded, unfed and crossed; of what is crossed that is told alone."""
    turned = tuple(crossed(elements.ends.components, nets))
    told = {each.component.name for each in turned}
    return (
        tuple(unused(plan, elements.ends.components)),
        tuple(s for s in stranded_sources(plan, nets, around, ways) if s.source.name not in told),
        tuple(u for u in unfed(plan, nets, elements.all, around, ways) if u.name not in told),
        turned,
    )


def _around(elements: list[Element]) -> dict[Terminal, list[Element]]:
    around: dict[Terminal, list[Element]] = {}
    for element in elements:
        around.setdefault(element.start, []).append(element)
        around.setdefault(element.end, []).append(element)
    return around


def _array(
    controller: Controller,
    port: str,
    components: dict[str, Named],
    around: dict[Terminal, list[Element]],
) -> Array | Problem | None:
    """The array at a controller's input, or what is wrong with it; None where it has none."""
    positive = Terminal(controller.name, port, "positive")
    negative = Terminal(controller.name, port, "negative")
    if positive not in around and negative not in around:
        return None
    here = f"{controller.name}.{port}"
    if controller.max_input_voltage is None and port not in controller.inputs:
        message = f"an array is led to `{here}`, and `{controller.name}` has no `max_input_voltage`"
        return Problem(controller.at, message, "write `max_input_voltage` from its label, with V")
    reached, elements = _reach((positive, negative), around)
    trespass = _trespass(reached, controller, port, components, around)
    if trespass is not None:
        output = Terminal(controller.name, "battery", "positive")
        sides = (reached, elements), _reach((output,), around)
        return exchanged_controller(controller, port, *sides, around, components) or trespass
    try:
        tree = reduce(elements, negative, positive)
    except NotSeriesParallel as odd:
        message = f"the wires of {', '.join(odd.names)} form a bridge, not series and parallel"
        instead = "draw each string from one joint to the next"
        return Problem(controller.at, message, instead)
    if tree is None or not has_source(tree):
        message = f"no string feeds `{here}`"
        instead = "wire both poles of a string to it"
        if positive in around and negative not in around:
            message = f"the negative of `{here}` is led nowhere, so no string feeds it"
            instead = (
                f"lead the string's negative to `{here}.negative`, also where one terminal of the "
                "unit serves all negatives; where both use the chassis, write a wire from "
                f"`{here}.negative` to chassis too"
            )
        return Problem(controller.at, message, instead)
    return Array(_at_input(controller, port), tree, port)


def _at_input(controller: Controller, port: str) -> Controller:
    """The controller with the limits of one of several inputs."""
    own = controller.inputs.get(port)
    if own is None:
        return controller
    keys = (
        "max_input_voltage",
        "min_input_voltage",
        "max_input_current",
        "usable_input_current",
    )
    limits = {key: value for key in keys if (value := getattr(own, key)) is not None}
    return controller.model_copy(update=limits)


def _reach(
    starts: tuple[Terminal, ...], around: dict[Terminal, list[Element]]
) -> tuple[set[Terminal], list[Element]]:
    """Terminals and elements reached from some terminals, in a fixed order."""

    def ways(here: Terminal) -> Iterator[tuple[Element, Terminal]]:
        return ((element, other_end(element, here)) for element in around[here])

    wired = [terminal for terminal in starts if terminal in around]
    passed = list(steps(wired, ways, deep=True))
    return {*wired, *(s.there for s in passed)}, list(dict.fromkeys(s.way for s in passed))


def _trespass(
    reached: set[Terminal],
    controller: Controller,
    port: str,
    components: dict[str, Named],
    around: dict[Terminal, list[Element]],
) -> Problem | None:
    """The array reaches the positive of something that is not an array."""
    here = f"{controller.name}.{port}"

    def order(terminal: Terminal) -> tuple[bool, bool, Terminal]:
        of_battery = isinstance(components.get(terminal.component), Battery)
        return terminal.component != controller.name, not of_battery, terminal

    for terminal in sorted(reached, key=order):
        component = components.get(terminal.component)
        if terminal.pole != "positive" or component is None:
            continue
        if is_solar_input(component, terminal.port):
            if terminal[:2] == (controller.name, port):
                continue
            assert isinstance(component, Controller)
            if have_one_return(Terminal(controller.name, port, "positive"), terminal, around):
                joined = returns_joined((controller, port), (component, terminal.port))
                if joined is None:
                    continue
                return joined
            if terminal.component == controller.name:
                inputs = sorted((here, ".".join(terminal[:2])))
                message = f"one array feeds both `{inputs[0]}` and `{inputs[1]}`"
                return Problem(component.at, message, "give each input an array of its own")
            first, second = sorted((controller, component), key=lambda each: each.at)
            message = f"one array feeds both `{first.name}` and `{second.name}`"
            instead = (
                "give each controller an array of its own, or take one of them away: each holds "
                "the array at a voltage of its own"
            )
            return Problem(second.at, message, instead)
        other = isinstance(component, Controller) and component.name != controller.name
        if other and terminal.port in ("battery", "load"):
            what = "output" if terminal.port == "battery" else "load terminals"
            message = (
                f"`{terminal.component}` feeds `{controller.name}`: the {what} of one controller "
                "lead to the solar input of another"
            )
            shown = ".".join(terminal[:2])
            instead = f"lead `{shown}` to the battery, and nothing but an array to `{here}`"
            return Problem(component.at, message, instead)
        if isinstance(component, Battery | Charger | Inverter | Load | Controller | Starter):
            shown = ".".join(part for part in terminal[:2] if part)
            message = f"the array is joined to `{shown}` past the controller `{controller.name}`"
            hazard = hazard_at(reached, components)
            return Problem(component.at, message, f"wire the array to `{here}` only", hazard)
    return None


BORNE = 2
"""Strings side by side of which one, turned round, bears what the other drives through it."""


def _array_problems(array: Array) -> Iterator[Problem]:
    """Strings the wrong way round, and conductors across a string."""
    sources = [leaf for leaf in leaves(array.tree) if isinstance(leaf.element, Source)]
    turned = [leaf for leaf in sources if not leaf.forward]
    here = f"{array.controller.name}.{array.port}"
    if turned and len(turned) == len(sources):
        message = f"the poles are reversed at `{here}`: positive meets negative"
        instead = f"swap the two conductors at `{here}`"
        yield Problem(array.controller.at, message, instead)
        return
    for leaf in turned:
        name = leaf.element.name
        message = f"the poles of `{name}` are reversed against the other strings"
        hazard = "fire" if len(sources) > BORNE else ""
        yield Problem(
            place_of(leaf.element), message, f"swap the two conductors at `{name}`", hazard
        )
    yield from _shorted(array.tree)


def _shorted(tree: Tree) -> Iterator[Problem]:
    if isinstance(tree, Leaf):
        return
    if isinstance(tree, Parallel) and has_source(tree):
        for member in tree.members:
            if not has_source(member):
                element = leaves(member)[0].element
                message = (
                    f"`{element.name}` joins the positive and the negative of an array: a short"
                )
                yield Problem(place_of(element), message, "check which pole each end leads to")
    for member in tree.members:
        yield from _shorted(member)
