"""The array at a solar input, by state: voltages, currents, joints, and what flows backwards.

This is where the electrical model of an array lives. Series adds voltage, parallel adds current;
unlike members are bounded on the safe side for each question: the highest open-circuit voltage and
the largest short-circuit current against ratings, the lowest voltage and current at maximum power
for what the controller gets. A curve solver takes this file's place without touching the rules.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from wattproof.circuit import (
    Array,
    Conductor,
    Leaf,
    Parallel,
    Passage,
    Series,
    Source,
    Terminal,
    Tree,
    has_source,
    is_overcurrent,
    leaves,
)
from wattproof.circuit.walk import reached
from wattproof.kept import KeptEach, kept
from wattproof.physics.modules import temperature_at_limit
from wattproof.plan.array import Combiner, String
from wattproof.plan.devices import Busbar
from wattproof.plan.power import Controller
from wattproof.plan.root import Plan
from wattproof.record import record
from wattproof.source import Place
from wattproof.study.array.strings import ModuleStudy, StringStudy
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.limits import exceeds
from wattproof.study.site.climate import HOTTEST_AIR, Climate, from_table
from wattproof.study.site.states import WORDS, State
from wattproof.working import Value, declared, largest, smallest, total

Combine = Callable[[list[Value]], Value]


@record
class Branch:
    """One of the branches that meet at a joint.

    name: its string, or the joint that it comes from. strings: all strings in it.
    """

    name: str
    tree: Tree
    strings: tuple[StringStudy, ...]

    @property
    def declared_strings(self) -> tuple[String, ...]:
        """Its strings as the plan names them, each once."""
        return _declared(self.strings)


@record
class Joint:
    """Where branches meet in parallel.

    combiner: the plan's component, None where a short form or wires alone make the joint.
    """

    name: str
    at: Place
    combiner: Combiner | None
    tree: Parallel
    branches: tuple[Branch, ...]


@record
class Link:
    """A module or group in a chain.

    current: at maximum power (A). in_parallel: modules side by side in it, at most.
    """

    name: str
    current: Value
    in_parallel: int


@record
class Chain:
    """Modules or groups in series: a string, or groups linked by wires.

    links: what carries the same current. strings: as the plan names them, each once. loss: the
    largest share of their power that the common current can cost. whole: the part of the array.
    """

    name: str
    links: tuple[Link, ...]
    strings: tuple[String, ...]
    loss: Value
    whole: Tree


@record
class Backflow:
    """What can flow backwards into a string when one of its modules fails short.

    current: sustained (A), after the devices on the way; None where nothing can.
    unlimited: the same as if no device were on the way; without limit from a battery.
    devices: overcurrent devices between the string and the nearest joint that feeds it.
    leads: conductors between the string and that joint. joint: its name, empty without one.
    from_battery: True where the controller lets battery current through.
    """

    string: StringStudy
    current: Value | None
    unlimited: Value | None
    devices: tuple[Passage, ...]
    leads: tuple[Conductor, ...]
    joint: str = ""
    from_battery: bool = False

    @property
    def guarded_by(self) -> Passage | None:
        """The smallest of its devices, which is what protects it; None without any."""
        return min(self.devices, key=lambda device: device_rating(device).number, default=None)

    @property
    def harms(self) -> bool:
        """True where more can last backwards than its modules stand by their label."""
        return self.current is not None and exceeds(self.current, self.string.max_series_fuse)

    @property
    def would_harm(self) -> bool:
        """True where it would be so if no device were on the way."""
        pushed = self.unlimited
        return pushed is not None and exceeds(pushed, self.string.max_series_fuse)

    @property
    def is_over_label(self) -> bool:
        """True where the rating of the device that guards it is over that label."""
        device = self.guarded_by
        return device is not None and exceeds(device_rating(device), self.string.fuse_window.label)


@record
class Inflow:
    """What can flow into a stretch of wire from the side of the controller when it is shorted.

    behind: the part of the array whose current it carries. sustained, unlimited: with and without
    the devices between the stretch and the joint that feeds it (A); None where nothing can.
    """

    part: Conductor
    behind: Tree
    sustained: Value | None
    unlimited: Value | None
    devices: tuple[Passage, ...]
    joint: str


@dataclass(eq=False)
class ArrayStudy:
    """What feeds one solar input.

    feed: battery current (A) that the controller is known to let through backwards, after the
    devices between the two; None where it lets none. possible_feed: likewise, of a controller of
    which the plan does not say.
    """

    array: Array
    plan: Plan
    climate: Climate
    strings: dict[Source, StringStudy]
    feed: Value | None = None
    _values: KeptEach[tuple[str, Tree, State], Value | None] = field(default_factory=KeptEach)

    @property
    def controller(self) -> Controller:
        """The controller that it feeds."""
        return self.array.controller

    def on(self, controller: Controller) -> ArrayStudy:
        """The same array at another controller."""
        return replace(self, array=replace(self.array, controller=controller))

    @property
    def name(self) -> str:
        """How findings and figures call it."""
        port = f".{self.array.port}" if self.array.port != "pv" else ""
        return f"array at {self.controller.name}{port}"

    @property
    def tree(self) -> Tree:
        """The whole of it."""
        return self.array.tree

    @kept
    def all_strings(self) -> tuple[StringStudy, ...]:
        """Its strings, from the negative side to the positive."""
        return self.strings_of(self.tree)

    def strings_of(self, tree: Tree) -> tuple[StringStudy, ...]:
        """The strings of a part of it."""
        sources = [leaf.element for leaf in leaves(tree)]
        return tuple(self.strings[s] for s in sources if isinstance(s, Source))

    @kept
    def declared_strings(self) -> tuple[String, ...]:
        """Its strings as the plan names them, each once however many a short form makes of it."""
        return _declared(self.all_strings)

    def declared_in(self, trees: Iterable[Tree]) -> tuple[String, ...]:
        """The strings of some parts of it, as `declared_strings` has those of all."""
        sources = (leaf.element for tree in trees for leaf in leaves(tree))
        return _declared(self.strings[s] for s in sources if isinstance(s, Source))

    @kept
    def modules(self) -> tuple[ModuleStudy, ...]:
        """The datasheets of its modules, each once."""
        return tuple({m.name: m for s in self.all_strings for m in s.modules}.values())

    def label_tolerance(self, usual: float) -> float:
        """Share by which its voltage may lie above the labels: the largest of its modules.

        usual: that of a label that tells none.
        """
        told = [m.sheet.voc_tolerance for m in self.modules]
        return max((usual if t is None else t.value for t in told), default=usual)

    @kept
    def joined(self) -> tuple[Combiner | Busbar, ...]:
        """The combiners and the bars of positive pole at its terminals."""
        bars = {t.component for t in self._terminals if t.pole == "positive"}
        return (
            *(c for name, c in self.plan.combiners.items() if name in self.components),
            *(b for name, b in self.plan.busbars.items() if name in bars),
        )

    @kept
    def components(self) -> frozenset[str]:
        """Names of the components at its terminals, those plugged straight into a joint too."""
        found = {t.component for t in self._terminals}
        found |= {leaf.element.name for leaf in leaves(self.tree)}
        return frozenset(reached(found, self._plugged_into))

    def _plugged_into(self, name: str) -> Iterator[str]:
        """What a component joins, if it is a joint."""
        joint = self.plan.combiners.get(name)
        yield from joint.joined if joint is not None else ()

    @kept
    def _terminals(self) -> set[Terminal]:
        elements = [leaf.element for leaf in leaves(self.tree)]
        return {terminal for e in elements for terminal in (e.start, e.end)}

    def voc(self, state: State, tree: Tree | None = None) -> Value:
        """Open-circuit voltage (V): parallel takes the highest branch."""
        return self._figure("Voc", state, tree)

    def isc(self, state: State, tree: Tree | None = None) -> Value:
        """Short-circuit current (A): series takes the largest member."""
        return self._figure("Isc", state, tree)

    def vmp(self, state: State, tree: Tree | None = None) -> Value:
        """Voltage at maximum power (V): parallel takes the lowest branch."""
        return self._figure("Vmp", state, tree)

    def highest_vmp(self, state: State, tree: Tree | None = None) -> Value:
        """Voltage at maximum power of the branches where it is highest (V)."""
        return self._figure("Vmax", state, tree)

    def imp(self, state: State, tree: Tree | None = None) -> Value:
        """Current at maximum power (A): series takes the smallest member."""
        return self._figure("Imp", state, tree)

    def power(self, state: State) -> Value:
        """Power at the input (W), conductors left out."""
        words = f"power of the {self.name}, {WORDS[state]}"
        symbol = f"P({self.controller.name})"
        return (self.vmp(state) * self.imp(state)).named(symbol, words, "W")

    def temperature_at_open_circuit(self, limit: Value) -> float | None:
        """The cell temperature (°C) at which its open-circuit voltage reaches a limit (V).

        None where it is above the limit in any air, however hot.
        """
        standard, cold = self.voc("standard"), self.voc("coldest")
        if cold.number == standard.number:
            return None
        cells = self.climate.coldest.number
        found = temperature_at_limit(standard.number, cold.number, cells, limit.number)
        return found if found < HOTTEST_AIR else None

    def in_series(self, tree: Tree | None = None) -> int:
        """Modules in series on the way through it that has the most."""
        return _most(tree or self.tree, Series)

    def in_parallel(self, tree: Tree | None = None) -> int:
        """Strings side by side where it has the most."""
        return _most(tree or self.tree, Parallel)

    def fitting_in_series(self, volts: float) -> int:
        """How many of its modules in series stay within a voltage (V) on the coldest morning."""
        each = max(module.cold_voc().number for module in self.modules)
        return math.floor(volts / each)

    def loss_at(self, joint: Joint) -> Value:
        """The largest share of their power that unlike voltages of branches can cost.

        At any voltage up to its own at maximum power a branch gives at least its current at
        maximum power, and above that no less than nothing up to open circuit. So the best of
        these voltages, times those currents, is left at least. Nothing is where a label says of one
        that it is open below all of them.
        """
        trees = [branch.tree for branch in joint.branches]
        opens = min(self.voc("standard", tree).number for tree in trees)
        volts = {v.number: v for v in (self.vmp("standard", tree) for tree in trees)}
        left = [
            v * total([self.imp("standard", t) for t in trees if self.vmp("standard", t) >= v])
            for v in volts.values()
            if v.number <= opens
        ]
        whole = total([self._power_of(tree) for tree in trees])
        share = 1.0 - (largest(left) if left else 0.0 * whole) / whole
        return share.named(f"loss({joint.name})", f"most that is lost at {joint.name}", "%")

    @kept
    def joints(self) -> tuple[Joint, ...]:
        """Every place where branches meet in parallel, inner ones first."""
        return tuple(self._joints(self._as_joined(self.tree)))

    @kept
    def joints_of_each_pole(self) -> tuple[Joint, ...]:
        """The same, and the joints of one pole for the negatives of the same branches."""
        return tuple(each for joint in self.joints for each in self._of_each_pole(joint))

    def _of_each_pole(self, joint: Joint) -> Iterator[Joint]:
        yield joint
        other = self.plan.combiners.get(joint.tree.negative.component)
        of_negatives = joint.tree.negative.pole == "negative"
        if other is not None and other is not joint.combiner and of_negatives:
            yield Joint(str(other.name), other.at, other, joint.tree, joint.branches)

    @kept
    def chains(self) -> tuple[Chain, ...]:
        """Every set of unlike members that carry one current: mixed strings, groups in series."""
        return (*self._mixed_strings(), *self._groups_in_series(self.tree))

    @kept
    def input_limit(self) -> Value:
        """The highest voltage that its controller's input stands (V)."""
        written = self.controller.input_limit
        return declared(written, "Umax", f"highest input voltage of {self.controller.name}")

    def is_over_input(self, state: State, share: float = 1.0) -> bool:
        """True where its open-circuit voltage in a state is over a share of that."""
        return exceeds(self.voc(state), share * self.input_limit)

    @kept
    def backflows(self) -> tuple[Backflow, ...]:
        """For each string, what its neighbours can push back into it."""
        return tuple(self._backflows(self.tree, _Way(self.feed, self.feed)))

    @kept
    def inflows(self) -> tuple[Inflow, ...]:
        """For each stretch of its wires, what can flow into a short there from the controller."""
        return tuple(self._inflows(self.tree, _Way(self.feed, self.feed), self.tree))

    @kept
    def backflow_by_lead(self) -> dict[Conductor, Backflow]:
        """For each conductor between a string and its joint, what can flow back along it."""
        found: dict[Conductor, Backflow] = {}
        for flow in self.backflows:
            for lead in flow.leads:
                found.setdefault(lead, flow)
        return found

    @kept
    def behind_devices(self) -> frozenset[Conductor]:
        """The stretches of its wires that lie behind a device as seen from the controller."""
        return frozenset(inflow.part for inflow in self.inflows if inflow.devices)

    def carried(self) -> Iterator[tuple[Leaf, Tree]]:
        """Each conductor and device of the array with the part of it whose current it carries."""
        yield from _carried(self.tree, self.tree)

    _RULES = {  # noqa: RUF012 - a constant table
        "Voc": ("open-circuit voltage", "V", total, largest),
        "Isc": ("short-circuit current", "A", largest, total),
        "Vmp": ("voltage at maximum power", "V", total, smallest),
        "Vmax": ("voltage at maximum power of the highest branches", "V", total, largest),
        "Imp": ("current at maximum power", "A", smallest, total),
    }

    _OF_STRINGS = {  # noqa: RUF012 - a constant table
        "Voc": "voc",
        "Isc": "isc",
        "Vmp": "vmp",
        "Vmax": "vmp",
        "Imp": "imp",
    }

    def _figure(self, symbol: str, state: State, tree: Tree | None) -> Value:
        value = self._of(symbol, state, tree or self.tree)
        assert value is not None, "a part of an array without a source has no figures"
        return value

    def _of(self, symbol: str, state: State, tree: Tree) -> Value | None:
        """The figure of a part of the array; None for conductors and devices alone."""
        if isinstance(tree, Leaf):
            if not isinstance(tree.element, Source):
                return None
            figure: Value = getattr(self.strings[tree.element], self._OF_STRINGS[symbol])(state)
            return figure

        def combined() -> Value | None:
            members = [self._of(symbol, state, member) for member in tree.members]
            return self._combined(symbol, state, tree, [m for m in members if m])

        return self._values.of((symbol, tree, state), combined)

    def _combined(
        self, symbol: str, state: State, tree: Series | Parallel, members: list[Value]
    ) -> Value | None:
        if len(members) < 2:
            return members[0] if members else None
        words, unit, in_series, in_parallel = self._RULES[symbol]
        combine: Combine = in_series if isinstance(tree, Series) else in_parallel
        name = self.name_of(tree)
        said = f"{words} of {name}, {WORDS[state]}"
        return combine(members).named(f"{symbol}({name})", said, unit)

    def name_of(self, tree: Tree) -> str:
        """What to call a part of the array: its string, its joint, or its members."""
        if isinstance(tree, Leaf):
            return tree.element.name
        if tree is self.tree:
            return self.name
        if isinstance(tree, Parallel):
            component = tree.positive.component
            if component not in self.plan.combiners:
                component = tree.negative.component
            if component in self.plan.combiners:
                return component
        if isinstance(tree, Series):
            inner = [member for member in tree.members if has_source(member)]
            if len(inner) == 1:
                return self.name_of(inner[0])
        strings = {str(s.source.string.name): None for s in self.strings_of(tree)}
        if len(strings) == 1:
            return next(iter(strings))
        names = [s.name for s in self.strings_of(tree)]
        joined = " + ".join(names[:4])
        return joined if len(names) <= 4 else f"{joined} + {len(names) - 4} more"

    def _power_of(self, tree: Tree) -> Value:
        """Power at standard conditions of a part of it (W)."""
        power = self.vmp("standard", tree) * self.imp("standard", tree)
        name = self.name_of(tree)
        return power.named(f"P({name})", f"power of {name}, {WORDS['standard']}", "W")

    def _joints(self, tree: Tree) -> Iterator[Joint]:
        if isinstance(tree, Leaf):
            return
        for member in tree.members:
            yield from self._joints(member)
        if isinstance(tree, Parallel) and has_source(tree):
            name = self.name_of(tree)
            combiner = self.plan.combiners.get(name)
            branches = tuple(Branch(self.name_of(m), m, self.strings_of(m)) for m in tree.members)
            at = combiner.at if combiner else branches[0].strings[0].at
            yield Joint(name, at, combiner, tree, branches)

    def _mixed_strings(self) -> Iterator[Chain]:
        for string in self.all_strings:
            links = {m.name: Link(m.name, m.imp, 1) for m in string.modules}
            if len(links) > 1:
                apart = total([m.vmp * m.imp for m in string.modules])
                left = string.vmp("standard") * string.imp("standard")
                loss = _loss(string.name, left, apart)
                declared_string = (string.source.string,)
                whole = Leaf(string.source, True)
                yield Chain(string.name, tuple(links.values()), declared_string, loss, whole)

    def _groups_in_series(self, tree: Tree) -> Iterator[Chain]:
        if isinstance(tree, Leaf):
            return
        for member in tree.members:
            yield from self._groups_in_series(member)
        if isinstance(tree, Series):
            members = [m for m in tree.members if has_source(m)]
            if len(members) > 1:
                links = tuple(self._link(member) for member in members)
                name, strings = self.name_of(tree), _declared(self.strings_of(tree))
                apart = total([self._power_of(member) for member in members])
                loss = _loss(name, self._power_of(tree), apart)
                yield Chain(name, links, strings, loss, tree)

    def _link(self, tree: Tree) -> Link:
        return Link(self.name_of(tree), self.imp("standard", tree), self.in_parallel(tree))

    def _as_joined(self, tree: Tree) -> Tree:
        """The same circuit, with joints that are plugged into a joint told apart by `joins`."""
        if isinstance(tree, Leaf):
            return tree
        members = tuple(self._as_joined(member) for member in tree.members)
        if isinstance(tree, Series):
            return Series(members)
        combiner = self.plan.combiners.get(self.name_of(tree))
        if combiner is not None:
            members = self._plugged(combiner, members)
        return Parallel(members, tree.negative, tree.positive)

    def _plugged(self, combiner: Combiner, members: tuple[Tree, ...]) -> tuple[Tree, ...]:
        """Branches of a joint, those of another joint plugged into it taken as one branch."""
        for name in combiner.joined:
            inner = self.plan.combiners.get(name)
            if inner is None or inner is combiner:
                continue
            under = self._strings_under(str(inner.name), str(combiner.name))
            own = tuple(m for m in members if self._string_names(m) <= under)
            if len(own) < 2 or len(own) == len(members):
                continue
            ends = [Terminal(str(inner.name), "", pole) for pole in ("negative", "positive")]
            branch = Parallel(self._plugged(inner, own), *ends)
            members = (*(m for m in members if m not in own), branch)
        return members

    def _strings_under(self, joint: str, above: str) -> set[str]:
        """Names of the strings that a joint joins, through other joints too, not the one above."""
        under = reached([joint], lambda name: (n for n in self._plugged_into(name) if n != above))
        return under & self.plan.strings.keys()

    def _string_names(self, tree: Tree) -> set[str]:
        return {str(s.source.string.name) for s in self.strings_of(tree)}

    def _backflows(self, tree: Tree, way: _Way) -> Iterator[Backflow]:
        """Walk inwards: siblings add to what can flow back, devices on the way limit it."""
        if isinstance(tree, Leaf):
            if isinstance(tree.element, Source):
                string = self.strings[tree.element]
                named = way.named(string.name)
                yield Backflow(
                    string,
                    named.sustained,
                    named.unlimited,
                    way.devices,
                    way.leads,
                    way.joint,
                    self.feed is not None,
                )
            return
        if isinstance(tree, Parallel):
            for member in tree.members:
                others = self._pushed_by(tree, member)
                yield from self._backflows(member, way.joined(others, self.name_of(tree)))
            return
        here = [m.element for m in tree.members if isinstance(m, Leaf)]
        devices = [e for e in here if is_overcurrent(e)]
        leads = [e for e in here if isinstance(e, Conductor)]
        for member in tree.members:
            if has_source(member):
                yield from self._backflows(member, way.along(devices, leads))

    def _inflows(self, tree: Tree, way: _Way, behind: Tree) -> Iterator[Inflow]:
        """Walk inwards like the backflows, and stop at every conductor."""
        if isinstance(tree, Leaf):
            part = tree.element
            if isinstance(part, Conductor) and (part.pole == "positive" or _is_single(part)):
                named = way.named(part.name)
                yield Inflow(part, behind, named.sustained, named.unlimited, way.devices, way.joint)
            return
        if isinstance(tree, Parallel):
            for member in tree.members:
                beyond = way
                if has_source(member):
                    others = self._pushed_by(tree, member)
                    beyond = way.joined(others, self.name_of(tree))
                yield from self._inflows(member, beyond, behind)
            return
        sources = [k for k, m in enumerate(tree.members) if has_source(m)]
        inner = tree if sources else behind
        first = sources[0] if sources else 0
        for k, member in enumerate(tree.members):
            outside = tree.members[k + 1 :] if k >= first else tree.members[:k]
            if has_source(member):
                outside = tree.members
            yield from self._inflows(member, way.along(_devices(outside), []), inner)

    def _pushed_by(self, joint: Parallel, member: Tree) -> Value:
        """Current (A) that the other branches of a joint drive into one of them."""
        others = self.isc("standard", joint) - self.isc("standard", member)
        factor = from_table(self.climate.code.reverse_current_factor, "krev")
        name = self.name_of(member)
        words = f"current of the other branches into {name}"
        return (factor * others).named(f"Irev({name})", words, "A")


def _is_single(conductor: Conductor) -> bool:
    """True for a wire of one pole, which stands for itself."""
    wire = conductor.wire
    ends = (wire.start, wire.to)
    return wire.pole is not None or any(e.endswith((".positive", ".negative")) for e in ends)


def _devices(members: tuple[Tree, ...]) -> list[Passage]:
    """The overcurrent devices among some members of a series."""
    found = [m.element for m in members if isinstance(m, Leaf)]
    return [e for e in found if is_overcurrent(e)]


def _declared(strings: Iterable[StringStudy]) -> tuple[String, ...]:
    """The plan's strings that some strings of the circuit come from, each once."""
    return tuple({s.source.string.name: s.source.string for s in strings}.values())


def _most(tree: Tree, adding: type[Series] | type[Parallel]) -> int:
    """Modules in series (adding: Series) or strings side by side (adding: Parallel), at most."""
    if isinstance(tree, Leaf):
        if not isinstance(tree.element, Source):
            return 0
        return len(tree.element.modules) if adding is Series else 1
    counts = [_most(member, adding) for member in tree.members]
    return sum(counts) if isinstance(tree, adding) else max(counts)


def _loss(name: str, left: Value, whole: Value) -> Value:
    """Share of power that a common current costs at most.

    At a smaller current each member keeps at least its voltage at maximum power.
    """
    words = f"most that is lost in {name}"
    return (1.0 - left / whole).named(f"loss({name})", words, "%")


class _Way(NamedTuple):
    """What can flow back along a way into the array, and what is on it since the last joint."""

    sustained: Value | None
    unlimited: Value | None
    devices: tuple[Passage, ...] = ()
    leads: tuple[Conductor, ...] = ()
    joint: str = ""

    def joined(self, others: Value, joint: str) -> _Way:
        """Past a joint, into one of its branches: the others add to it."""
        sustained = others if self.sustained is None else self.sustained + others
        unlimited = others if self.unlimited is None else self.unlimited + others
        return _Way(sustained, unlimited, joint=joint)

    def along(self, devices: list[Passage], leads: list[Conductor]) -> _Way:
        """Along conductors and through devices, which limit it to their rating."""
        sustained = self.sustained
        if sustained is not None and devices:
            sustained = smallest([sustained, *(device_rating(d) for d in devices)])
        return _Way(
            sustained,
            self.unlimited,
            (*self.devices, *devices),
            (*self.leads, *leads),
            self.joint,
        )

    def named(self, string: str) -> _Way:
        """The same with its numbers named for a string."""
        words = f"what can flow backwards into {string}"
        sustained, unlimited = (
            value if value is None or value.unit else value.named(f"Irev({string})", words, "A")
            for value in (self.sustained, self.unlimited)
        )
        return _Way(sustained, unlimited, self.devices, self.leads, self.joint)


def _carried(tree: Tree, around: Tree) -> Iterator[tuple[Leaf, Tree]]:
    if isinstance(tree, Leaf):
        if not isinstance(tree.element, Source):
            yield tree, around
        return
    inner = tree if isinstance(tree, Series) and has_source(tree) else around
    for member in tree.members:
        yield from _carried(member, inner)
