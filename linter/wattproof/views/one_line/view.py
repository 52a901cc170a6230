"""The one-line view of a plan: parts, and the runs between them, with what there is to say of each.

One line stands for both poles. Every component and every wire of the plan is in it once; a ground
that several conductors lead to stands at the end of each.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from wattproof.plan.bonding import FrameBond
from wattproof.plan.devices import Distribution
from wattproof.plan.fields import Named
from wattproof.plan.power import Inverter, Load
from wattproof.plan.terminals import COMMON, Reached, is_solar_input, solar_inputs
from wattproof.plan.ways import open_inputs
from wattproof.plan.wiring import Bond, Inline, Wire
from wattproof.source import Place
from wattproof.study.site.states import State
from wattproof.views.one_line.direction import Ends, downstream
from wattproof.views.one_line.values import Reading, part_readings, wire_readings
from wattproof.views.one_line.words import (
    GROUNDS,
    SymbolKind,
    is_many,
    kind_of,
    place_in_wire,
    plug_says,
    says,
    size_says,
)
from wattproof.working import NOT_CHOSEN, Value, declared

if TYPE_CHECKING:
    from wattproof.study import Study

__all__ = ["End", "OneLine", "Part", "Poles", "Reading", "Run", "one_line"]

Poles: TypeAlias = Literal["both", "positive", "negative", "series", "frame"]
"""Which poles a run has; `series` is a conductor from a negative to a positive."""


@dataclass(frozen=True, slots=True)
class Part:
    """A component, a device in a wire, or a ground.

    key: unique in the view. says: what is printed on it, in lines. places: where in the plan a
    finding on it stands. ways: those of a panel. blocks: True for a string with a blocking diode.
    share: how far along its wire a device sits, from 0 at the upper end; None where not stated.
    many: True for several modules or batteries that one symbol stands for. breaks_load: True for a
    switch that may be opened under load.
    """

    key: str
    name: str
    kind: SymbolKind
    says: tuple[str, ...] = ()
    readings: tuple[Reading, ...] = ()
    places: tuple[Place, ...] = ()
    ways: tuple[Part, ...] = ()
    blocks: bool = False
    share: float | None = None
    many: bool = False
    breaks_load: bool = False


@dataclass(frozen=True, slots=True)
class End:
    """Where a run ends: a part's key, and its port where it has several."""

    part: str
    port: str = ""


@dataclass(frozen=True, slots=True)
class Run:
    """A wire, a bond, or parts that are plugged or built together (without a name and a size).

    upper: the end nearer to the sources. devices: those in it, from its upper end.
    """

    key: str
    name: str
    upper: End
    lower: End
    poles: Poles = "both"
    says: tuple[str, ...] = ()
    length: Value | None = None
    readings: tuple[Reading, ...] = ()
    devices: tuple[Part, ...] = ()
    places: tuple[Place, ...] = ()


@dataclass(frozen=True, slots=True)
class OneLine:
    """The whole view in one operating state. Parts and runs are in the order of the plan."""

    title: str
    state: State
    parts: tuple[Part, ...]
    runs: tuple[Run, ...]


def one_line(study: Study, state: State) -> OneLine:
    """The one-line view of a plan, with its voltages and currents in an operating state."""
    return _View(study, state).built()


class _View:
    """Collects parts and runs."""

    def __init__(self, study: Study, state: State) -> None:
        self.study = study
        self.plan = study.plan
        self.state: State = state
        self.ends = study.circuit.ends
        self.components = self.ends.components
        self.apart: dict[str, Part] = {}
        self.in_wires = {str(i.device) for wire in self.plan.wires.values() for i in wire.inline}
        self.in_packs = {
            str(battery.each_pack.fuse)
            for battery in self.plan.batteries.values()
            if battery.each_pack is not None
        } - self.in_wires
        """Fuses that every pack of a bank has, which stand at the bank."""

    def built(self) -> OneLine:
        """The view."""
        runs = [
            *self._wires(),
            *self._plugged_in(),
            *self._bonds(),
            *self._frame_bonds(),
            *self._arresters(),
            *self._not_chosen(),
        ]
        standing = [
            self._part(n, c, tuple(_line_sides(n, c, runs)))
            for n, c in self.components.items()
            if n not in self.in_wires and n not in self.in_packs
        ]
        arresters = [
            Part(str(n), str(n), "arrester", says(a), (), (a.at,))
            for n, a in self.plan.arresters.items()
        ]
        title = str(self.plan.title or "")
        return OneLine(
            title, self.state, (*standing, *arresters, *self.apart.values()), tuple(runs)
        )

    def _not_chosen(self) -> Iterator[Run]:
        """Modules of which it is not chosen how they are joined, and where they may lead."""
        for name, string in self.plan.open_strings.items():
            key = str(name)
            self.apart[key] = Part(key, key, kind_of(string), says(string), (), (string.at,))
            feeds = (string.feeds.to,) if string.feeds is not None else ()
            for reference in (*feeds, *open_inputs(string, self.plan)):
                component, _, port = reference.partition(".")
                if component not in self.components:
                    continue  # a joint that only these modules lead to
                inputs = solar_inputs(self.components[component])
                port = port or (inputs[0] if inputs else "")
                yield Run(
                    f"{key}:{reference}", "", End(key), End(component, port), says=(NOT_CHOSEN,)
                )

    def _part(self, name: str, component: Named, sides: tuple[str, ...]) -> Part:
        ways: tuple[Part, ...] = ()
        if isinstance(component, Distribution):
            ways = tuple(
                Part(f"{name}.{n}", str(n), "fuse", says(way), (), (way.at,))
                for n, way in component.ways.items()
            )
        return Part(
            str(name),
            str(name),
            kind_of(component),
            (*says(component), *self._in_each_pack(component), *sides),
            tuple(part_readings(self.study, component, self.state)),
            (component.at, *self._labels(component), *self._pack_fuses(component)),
            ways,
            getattr(component, "blocking_diode", None) is not None,
            many=is_many(component),
            breaks_load=bool(getattr(component, "load_break", None)),
        )

    def _in_each_pack(self, component: Named) -> tuple[str, ...]:
        """The fuse that each pack of a bank has, in words."""
        fuse = self._pack_fuse(component)
        return () if fuse is None else (f"at each pack: {fuse.name}", *says(fuse))

    def _pack_fuses(self, component: Named) -> tuple[Place, ...]:
        fuse = self._pack_fuse(component)
        return () if fuse is None else (fuse.at,)

    def _pack_fuse(self, component: Named) -> Named | None:
        each = getattr(component, "each_pack", None)
        return None if each is None else self.components.get(str(each.fuse))

    def _labels(self, component: Named) -> tuple[Place, ...]:
        """Where the datasheets of a string's modules stand, so that findings on them show there."""
        if component.name not in self.plan.strings:
            return ()
        string = self.plan.strings[component.name]
        names = string.modules or ((string.module,) if string.module is not None else ())
        sheets = self.plan.datasheets.modules
        return tuple(dict.fromkeys(sheets[name].at for name in names))

    def _wires(self) -> Iterator[Run]:
        ends = {name: self._ends(wire) for name, wire in self.plan.wires.items()}
        order = downstream(self.plan, self.components, list(ends.values()))
        for (name, wire), turned in zip(self.plan.wires.items(), order, strict=True):
            start, to = (self._end(name, n, *end) for n, end in enumerate(ends[name]))
            devices = self._devices(wire, turned)
            upper, lower = (to, start) if turned else (start, to)
            study = self.study.wiring.wires[name]
            yield Run(
                str(name),
                str(name),
                upper,
                lower,
                self._poles(name),
                size_says(wire, study.sheet),
                study.length,
                tuple(wire_readings(self.study, study, self.state)),
                devices[::-1] if turned else devices,
                (wire.at, study.sheet.at),
            )

    def _ends(self, wire: Wire) -> Ends:
        start, to, _ = self.ends.of_wire(wire)
        return (start.component, start.port), (to.component, to.port)

    def _end(self, run: str, number: int, component: str, port: str) -> End:
        """Where a run ends. A ground has a sign of its own at each end that leads to it."""
        if component in COMMON:
            key = f"{run}:{number}"
            self.apart[key] = Part(key, component, GROUNDS[component])
            return End(key)
        if component in self.in_wires:  # it is drawn there, and again where something else ends
            key = f"{component}:apart"
            device = self.components[component]
            self.apart[key] = Part(key, component, kind_of(device), says(device), (), (device.at,))
            return End(key)
        return End(component, port)

    def _poles(self, wire: str) -> Poles:
        conductors = self.study.wiring.wires[wire].conductors
        if self.study.wiring.wires[wire].poles == 2:
            return "both"
        if conductors[0].start.pole != conductors[-1].end.pole:
            return "series"
        return "positive" if conductors[0].pole == "positive" else "negative"

    def _devices(self, wire: Wire, turned: bool) -> tuple[Part, ...]:
        found = [self._device(wire, inline, turned) for inline in wire.inline]
        plug = plug_says(wire)
        if plug:
            found.insert(0, Part(f"{wire.name}:plug", "", "plug", plug, (), ()))
        return tuple(found)

    def _device(self, wire: Wire, inline: Inline, turned: bool) -> Part:
        device = self.components[inline.device]
        share = None
        if inline.distance is not None and wire.length.value > 0.0:
            share = inline.distance.value / wire.length.value
            if (inline.from_end == "to") != turned:
                share = 1.0 - share
        lines = (*says(device), *place_in_wire(wire, inline))
        name = str(inline.device)
        return Part(
            name,
            name,
            kind_of(device),
            lines,
            (),
            (device.at,),
            share=share,
            breaks_load=bool(getattr(device, "load_break", None)),
        )

    def _plugged_in(self) -> Iterator[Run]:
        """What a joint joins without a wire between the two."""
        wired: set[frozenset[str]] = {
            frozenset(wire.components) for wire in self.plan.wires.values()
        }
        for name, combiner in self.plan.combiners.items():
            joined = dict(zip(combiner.joins or (), self.ends.joined[name], strict=True))
            for reference, reached in joined.items():
                pair = frozenset((reached.component, str(name)))
                if len(pair) > 1 and pair not in wired:
                    key = f"{reference}:{name}"
                    upper = self._end(key, 0, reached.component, reached.port)
                    yield Run(key, "", upper, End(str(name)), says=("plugged straight in",))

    def _bonds(self) -> Iterator[Run]:
        for name, bond in self.plan.bonds.items():
            reached = self.ends.bonds[name]
            sheet = self.plan.datasheets.cables[bond.cable]
            yield Run(
                str(name),
                str(name),
                self._end(name, 0, reached.component, reached.port),
                self._end(name, 1, str(bond.to), ""),
                "positive" if reached.pole == "positive" else "negative",
                ("bond", *size_says(bond, sheet)),
                self._bond_length(bond),
                places=(bond.at, sheet.at),
            )

    def _frame_bonds(self) -> Iterator[Run]:
        for name, bond in self.plan.frame_bonds.items():
            sheet = self.plan.datasheets.cables[bond.cable]
            for number, string in enumerate(bond.strings):
                key = f"{name}:{string}" if len(bond.strings) > 1 else str(name)
                yield Run(
                    key,
                    str(name),
                    End(str(string)),
                    self._end(key, number, str(bond.to), ""),
                    "frame",
                    ("bond of frames", *size_says(bond, sheet)),
                    self._bond_length(bond),
                    places=(bond.at, sheet.at),
                )

    def _bond_length(self, bond: Bond | FrameBond) -> Value | None:
        if bond.length is None:
            return None
        return declared(bond.length, f"L({bond.name})", f"length of {bond.name}")

    def _arresters(self) -> Iterator[Run]:
        for name in self.plan.arresters:
            reached = self.ends.arresters[name]
            end = self._end(f"{name}:tap", 0, reached.component, reached.port)
            own = End(str(name))
            upper, lower = (own, end) if self._takes(reached) else (end, own)
            yield Run(f"{name}:tap", "", upper, lower, says=("across both poles",))

    def _takes(self, reached: Reached) -> bool:
        """Whether current arrives at a terminal rather than leaves it."""
        component = self.components.get(reached.component)
        takes = reached.port in ("alternator", "input") or isinstance(component, Load | Inverter)
        return takes or is_solar_input(component, reached.port)


def _line_sides(name: str, component: Named, runs: list[Run]) -> Iterator[str]:
    """What is on the line side of a breaker that is marked with one."""
    if getattr(component, "polarised", False):
        ends = End(name, "line")
        yield from (f"line side: {r.name}" for r in runs if r.name and ends in (r.upper, r.lower))
