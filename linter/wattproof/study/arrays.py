"""The array at a solar input, by state: voltages, currents, joints, and what flows backwards.

This is where the electrical model of an array lives. Series adds voltage, parallel adds current;
unlike members are bounded on the safe side for each question: the highest open-circuit voltage and
the largest short-circuit current against ratings, the lowest voltage and current at maximum power
for what the controller gets. A curve solver takes this file's place without touching the rules.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

from wattproof.circuit import (
    Array,
    Conductor,
    Leaf,
    Parallel,
    Passage,
    Series,
    Source,
    Tree,
    has_source,
    is_overcurrent,
    leaves,
)
from wattproof.physics.modules import temperature_at_limit
from wattproof.plan.array import Combiner
from wattproof.plan.power import Controller
from wattproof.plan.root import Plan
from wattproof.source import Place
from wattproof.study.climate import Climate, from_table
from wattproof.study.states import WORDS, State
from wattproof.study.strings import StringStudy
from wattproof.working import Value, declared, largest, smallest, total

Combine = Callable[[list[Value]], Value]


@dataclass(frozen=True, eq=False)
class Branch:
    """One of the branches that meet at a joint.

    name: its string, or the joint that it comes from. strings: all strings in it.
    """

    name: str
    tree: Tree
    strings: tuple[StringStudy, ...]


@dataclass(frozen=True, eq=False)
class Joint:
    """Where branches meet in parallel.

    combiner: the plan's component, None where a short form or wires alone make the joint.
    """

    name: str
    at: Place
    combiner: Combiner | None
    tree: Parallel
    branches: tuple[Branch, ...]


@dataclass(frozen=True, eq=False)
class Chain:
    """Modules or groups in series: a string, or groups linked by wires.

    members: names and trees or modules that carry the same current.
    """

    name: str
    at: Place
    members: tuple[tuple[str, Value], ...]


@dataclass(frozen=True, eq=False)
class Backflow:
    """What can flow backwards into a string when one of its modules fails short.

    current: sustained (A), after the devices on the way; None where nothing can.
    devices: overcurrent devices between the string and the nearest joint that feeds it.
    lead: conductors between the string and that joint.
    """

    string: StringStudy
    current: Value | None
    unlimited: Value | None
    devices: tuple[Passage, ...]
    leads: tuple[Conductor, ...]


@dataclass(eq=False)
class ArrayStudy:
    """What feeds one solar input."""

    array: Array
    plan: Plan
    climate: Climate
    strings: dict[Source, StringStudy]
    _values: dict[tuple[str, Tree, State], Value | None] = field(default_factory=dict)

    @property
    def controller(self) -> Controller:
        """The controller that it feeds."""
        return self.array.controller

    @property
    def name(self) -> str:
        """How findings and figures call it."""
        return f"array at {self.controller.name}"

    @property
    def tree(self) -> Tree:
        """The whole of it."""
        return self.array.tree

    @cached_property
    def all_strings(self) -> tuple[StringStudy, ...]:
        """Its strings, from the negative side to the positive."""
        return self.strings_of(self.tree)

    def strings_of(self, tree: Tree) -> tuple[StringStudy, ...]:
        """The strings of a part of it."""
        sources = [leaf.element for leaf in leaves(tree)]
        return tuple(self.strings[s] for s in sources if isinstance(s, Source))

    def voc(self, state: State, tree: Tree | None = None) -> Value:
        """Open-circuit voltage (V): parallel takes the highest branch."""
        return self._figure("Voc", state, tree)

    def isc(self, state: State, tree: Tree | None = None) -> Value:
        """Short-circuit current (A): series takes the largest member."""
        return self._figure("Isc", state, tree)

    def vmp(self, state: State, tree: Tree | None = None) -> Value:
        """Voltage at maximum power (V): parallel takes the lowest branch."""
        return self._figure("Vmp", state, tree)

    def imp(self, state: State, tree: Tree | None = None) -> Value:
        """Current at maximum power (A): series takes the smallest member."""
        return self._figure("Imp", state, tree)

    def power(self, state: State) -> Value:
        """Power at the input (W), conductors left out."""
        words = f"power of the {self.name}, {WORDS[state]}"
        symbol = f"P({self.controller.name})"
        return (self.vmp(state) * self.imp(state)).named(symbol, words, "W")

    def temperature_at_open_circuit(self, limit: Value) -> float | None:
        """The cell temperature (°C) at which its open-circuit voltage reaches a limit (V)."""
        standard, cold = self.voc("standard"), self.voc("coldest")
        if cold.number == standard.number:
            return None
        cells = self.climate.coldest.number
        return temperature_at_limit(standard.number, cold.number, cells, limit.number)

    @cached_property
    def joints(self) -> tuple[Joint, ...]:
        """Every place where branches meet in parallel, inner ones first."""
        return tuple(self._joints(self.tree))

    @cached_property
    def chains(self) -> tuple[Chain, ...]:
        """Every set of unlike members that carry one current: mixed strings, groups in series."""
        return (*self._mixed_strings(), *self._groups_in_series(self.tree))

    @cached_property
    def backflows(self) -> tuple[Backflow, ...]:
        """For each string, what its neighbours can push back into it."""
        return tuple(self._backflows(self.tree, None, None, (), ()))

    def carried(self) -> Iterator[tuple[Leaf, Tree]]:
        """Each conductor and device of the array with the part of it whose current it carries."""
        yield from _carried(self.tree, self.tree)

    _RULES = {  # noqa: RUF012 - a constant table
        "Voc": ("open-circuit voltage", "V", total, largest),
        "Isc": ("short-circuit current", "A", largest, total),
        "Vmp": ("voltage at maximum power", "V", total, smallest),
        "Imp": ("current at maximum power", "A", smallest, total),
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
            string = self.strings[tree.element]
            by_symbol = {"Voc": string.voc, "Isc": string.isc, "Vmp": string.vmp, "Imp": string.imp}
            return by_symbol[symbol](state)
        key = (symbol, tree, state)
        if key not in self._values:
            members = [self._of(symbol, state, member) for member in tree.members]
            self._values[key] = self._combined(symbol, state, tree, [m for m in members if m])
        return self._values[key]

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
        strings = {str(s.source.string.name): None for s in self.strings_of(tree)}
        if len(strings) == 1 and len(self.strings_of(tree)) > 1:
            return next(iter(strings))
        names = [s.name for s in self.strings_of(tree)]
        joined = " + ".join(names[:4])
        return joined if len(names) <= 4 else f"{joined} + {len(names) - 4} more"

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
            members = {m.name: (m.name, m.imp) for m in string.modules}
            if len(members) > 1:
                yield Chain(string.name, string.at, tuple(members.values()))

    def _groups_in_series(self, tree: Tree) -> Iterator[Chain]:
        if isinstance(tree, Leaf):
            return
        for member in tree.members:
            yield from self._groups_in_series(member)
        if isinstance(tree, Series):
            members = [m for m in tree.members if has_source(m)]
            if len(members) > 1:
                named = tuple((self.name_of(m), self.imp("standard", m)) for m in members)
                strings = self.strings_of(tree)
                yield Chain(self.name_of(tree), strings[0].at, named)

    def _backflows(
        self,
        tree: Tree,
        sustained: Value | None,
        unlimited: Value | None,
        devices: tuple[Passage, ...],
        leads: tuple[Conductor, ...],
    ) -> Iterator[Backflow]:
        """Walk inwards: siblings add to what can flow back, devices on the way limit it."""
        if isinstance(tree, Leaf):
            if isinstance(tree.element, Source):
                string = self.strings[tree.element]
                yield Backflow(string, sustained, unlimited, devices, leads)
            return
        if isinstance(tree, Parallel):
            for member in tree.members:
                others = self._pushed_by(tree, member)
                more = others if sustained is None else sustained + others
                whole = others if unlimited is None else unlimited + others
                yield from self._backflows(member, more, whole, (), ())
            return
        here = [m.element for m in tree.members if isinstance(m, Leaf)]
        limiting = [e for e in here if isinstance(e, Passage) and is_overcurrent(e)]
        wires = tuple(e for e in here if isinstance(e, Conductor))
        for device in limiting:
            if sustained is not None:
                rating = device_rating(device)
                sustained = smallest([sustained, rating])
        for member in tree.members:
            if has_source(member):
                yield from self._backflows(
                    member, sustained, unlimited, (*devices, *limiting), (*leads, *wires)
                )

    def _pushed_by(self, joint: Parallel, member: Tree) -> Value:
        """Current (A) that the other branches of a joint drive into one of them."""
        others = [
            self.isc("standard", m) for m in joint.members if m is not member and has_source(m)
        ]
        factor = from_table(self.climate.code.reverse_current_factor, "krev")
        name = self.name_of(member)
        words = f"current of the other branches into {name}"
        return (factor * total(others)).named(f"Irev({name})", words, "A")


def device_rating(passage: Passage) -> Value:
    """Rated current of an overcurrent device or switch (A)."""
    device = passage.device
    rating = getattr(device, "rating", None) or device.fuse  # type: ignore[union-attr]
    return declared(rating, f"In({device.name})", f"rating of {device.name}")


def _carried(tree: Tree, around: Tree) -> Iterator[tuple[Leaf, Tree]]:
    if isinstance(tree, Leaf):
        if not isinstance(tree.element, Source):
            yield tree, around
        return
    inner = tree if isinstance(tree, Series) and has_source(tree) else around
    for member in tree.members:
        yield from _carried(member, inner)
