"""A plan to the elements of its circuit: conductors, devices and sources between terminals."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit.elements import Conductor, Element, Passage, Source, Terminal, marks_of
from wattproof.circuit.ends import Ends, WireEnds
from wattproof.kept import unnoted
from wattproof.plan.array import String
from wattproof.plan.devices import Device
from wattproof.plan.layouts import Layout
from wattproof.plan.root import Plan
from wattproof.plan.terminals import POLES, SIDES
from wattproof.plan.wiring import Wire
from wattproof.quantities import Mistake
from wattproof.source import Problem

MAX_MODULES = 10_000


class Elements:
    """All elements of a plan. `problems` holds what could not be built."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.problems: list[Problem] = []
        self.ends = Ends(plan)
        self._devices: dict[str, Device] = plan.in_the_way
        self._wires_at = self.ends.wires_at
        self._modules = 0
        self._joined = {**self._plugged_straight_in(), **self._linking_bars()}
        for one, other in self._negatives_passed_by().items():
            here, there = self._node(one), self._node(other)
            if here.component in plan.combiners:  # a joint stands for what is plugged into it
                here, there = there, here
            if here != there:
                self._joined[here] = there
        self.all: list[Element] = [*self._sources(), *self._wires(), *self._ways()]

    def _node(self, terminal: Terminal) -> Terminal:
        """The terminal that stands for all that are joined without a wire or device."""
        seen = {terminal}
        while terminal in self._joined:
            terminal = self._joined[terminal]
            if terminal in seen:  # joints that name each other
                return min(seen)
            seen.add(terminal)
        return terminal

    def _plugged_straight_in(self) -> dict[Terminal, Terminal]:
        """Terminals of what a joint names in `joins` without a wire between the two."""
        plugged: dict[Terminal, Terminal] = {}
        for combiner in self.plan.combiners.values():
            wired = self._wired_to(combiner.name)
            joined = self.ends.joined[combiner.name]
            for reached in joined:
                if reached.component in wired:
                    continue
                for pole in (reached.pole,) if reached.pole else POLES:
                    terminal = Terminal(reached.component, reached.port, pole)
                    plugged[terminal] = Terminal(combiner.name, "", pole)
            if combiner.joins is None:
                continue
            named = {reached.component for reached in joined}
            for name in sorted(wired & set(self.plan.strings) - named):
                message = f"a wire brings `{name}` here, and `joins` does not list it"
                instead = f"write `joins: [{', '.join([*combiner.joins, name])}]`"
                self.problems.append(Problem(combiner.at, message, instead))
        return plugged

    def _linking_bars(self) -> dict[Terminal, Terminal]:
        """Bars, named without a pole, between the positive of one battery and the negative of
        another: a link in a row in series is one piece of metal, and no bar of two poles."""
        bars = (bar for bar in self.plan.busbars if self._is_link(bar))
        return {Terminal(bar, "", "negative"): Terminal(bar, "", "positive") for bar in bars}

    def _is_link(self, bar: str) -> bool:
        far: dict[str, str | None] = {}
        for wire in self._wires_at.get(bar, ()):
            ends = self._drawn(wire)
            if ends is None:
                return False
            start, end, _ = ends
            here, there = (start, end) if start.component == bar else (end, start)
            if here.pole or wire.pole or there.component not in self.plan.batteries:
                return False
            far[there.component] = there.pole
        wires = len(self._wires_at.get(bar, ()))
        return wires == len(far) == 2 and set(far.values()) == set(POLES)

    def _drawn(self, wire: Wire) -> WireEnds | None:
        """What a wire leads to; None where that is wrong, which is told where it is built."""
        try:
            return self.ends.of_wire(wire)
        except Mistake:
            return None

    def _wired_to(self, name: str) -> set[str]:
        """Components at the other end of the wires that end at this one."""
        others: set[str] = set()
        for wire in self._wires_at.get(name, ()):
            others |= set(wire.components) - {name}
        return others

    def _sources(self) -> Iterator[Source]:
        for string in self.plan.strings.values():
            yield from self._sources_of(string)

    def _sources_of(self, string: String) -> Iterator[Source]:
        """The modules of a string; the short forms give several sources in the same circuit."""
        sheets = self.plan.datasheets.modules
        negative = self._node(Terminal(string.name, "", "negative"))
        positive = self._node(Terminal(string.name, "", "positive"))
        if string.modules is not None:
            modules = tuple(sheets[name] for name in string.modules)
            yield Source(string, modules, 0, negative, positive)
            return
        assert string.module is not None
        module = sheets[string.module]
        layout = string.arrangement or Layout(string.series or 1, 1, True, "", None)
        self._modules += layout.inner * layout.outer
        if self._modules > MAX_MODULES:
            message = f"the plan has more than {MAX_MODULES:,} modules"
            self.problems.append(Problem(string.at, message, "split it into several plans"))
            return
        if layout.series_first:
            for index in range(layout.outer):
                number = index + 1 if layout.outer > 1 else 0
                yield Source(string, (module,) * layout.inner, number, negative, positive)
            return
        joints = [Terminal(string.name, f"#{k}", "between") for k in range(1, layout.outer)]
        nodes = [negative, *joints, positive]
        for group in range(layout.outer):
            for index in range(layout.inner):
                number = group * layout.inner + index + 1
                yield Source(string, (module,), number, nodes[group], nodes[group + 1])

    def _wires(self) -> Iterator[Element]:
        for wire in self.plan.wires.values():
            try:
                start, end, pairs = self.ends.of_wire(wire)
                _held_in_order(wire)
            except Mistake as mistake:
                place = mistake.place or wire.at
                self.problems.append(Problem(place, mistake.message, mistake.instead))
                continue
            for index, (first, last) in enumerate(pairs):
                yield from self._run(
                    wire,
                    self._node(Terminal(start.component, start.port, first)),
                    self._node(Terminal(end.component, end.port, last)),
                    first,
                    index,
                )

    def _run(
        self,
        wire: Wire,
        start: Terminal,
        end: Terminal,
        pole: str,
        index: int,
    ) -> Iterator[Element]:
        """One pole of a wire: conductors and the devices between them.

        A device breaks the first pole of its wire; a switch or breaker of two poles breaks both.
        """
        here = start
        devices = [(i, self._devices[i.device]) for i in wire.inline]
        in_this_pole = [
            (k, inline, device)
            for k, (inline, device) in enumerate(devices)
            if index == 0 or (getattr(device, "poles", None) or 1) > 1
        ]
        passed = 0  # the mark at which the present conductor begins
        for number, (k, inline, device) in enumerate(in_this_pole):
            before = Terminal(wire.name, f"#{number}a", pole)
            after = Terminal(wire.name, f"#{number}b", pole)
            yield Conductor(wire, pole, here, before, passed, k + 1)
            yield Passage(device, pole, before, after, wire, inline)
            here, passed = after, k + 1
        yield Conductor(wire, pole, here, end, passed, len(wire.inline) + 1)

    @property
    def shared(self) -> dict[Terminal, Terminal]:
        """Negatives of isolators and converters that are one inside, each with the one it is."""
        inside = {*self.plan.diode_isolators, *self.plan.converters}
        return {a: b for a, b in self._joined.items() if a.component in inside}

    def _negatives_passed_by(self) -> dict[Terminal, Terminal]:
        """Negative terminals that are one node: a panel's, and those beside a one-pole device.

        So are those of an isolator, and of a converter whose two sides share their negative.
        """
        joined = {
            Terminal(panel.name, way, "negative"): Terminal(panel.name, "", "negative")
            for panel in self.plan.distribution.values()
            for way in panel.ways
        }
        for name, isolator in self.plan.diode_isolators.items():
            for output in isolator.outputs:
                joined[Terminal(name, output, "negative")] = Terminal(name, "input", "negative")
        for name, converter in self.plan.converters.items():
            if not converter.isolated:
                joined[Terminal(name, "output", "negative")] = Terminal(name, "input", "negative")
        for name, selector in self.plan.selectors.items():
            if (selector.poles or 1) == 1 and self._breaks_positive(name):
                for side in SIDES:
                    joined[Terminal(name, side, "negative")] = Terminal(name, "common", "negative")
        for name, device in self._between_wires().items():
            if (getattr(device, "poles", None) or 1) == 1 and self._breaks_positive(name):
                line, load = Terminal(name, "line", "negative"), Terminal(name, "load", "negative")
                joined[load] = line
        return joined

    def _between_wires(self) -> dict[str, Device]:
        """Fuses, breakers and switches that stand between two wires rather than in one."""
        inline = {i.device for wire in self.plan.wires.values() for i in wire.inline}
        return {n: d for n, d in self._devices.items() if n not in inline and n in self._wires_at}

    def _breaks_positive(self, name: str) -> bool:
        """False for a device that only negative conductors lead to."""
        for wire in self._wires_at.get(name, ()):
            ends = self._drawn(wire)
            if ends is None or any(pair != ("negative", "negative") for pair in ends.poles):
                return True
        return False

    def _linked_poles(self, name: str) -> tuple[str, str] | None:
        """The poles at the two sides of a device in the link of a row of batteries in series."""
        met: dict[str, str] = {}
        for wire in self._wires_at.get(name, ()):
            ends = self._drawn(wire)
            if ends is None:
                return None
            start, to, poles = ends
            here, there = (start, to) if start.component == name else (to, start)
            if len(poles) > 1 or there.component not in self.plan.batteries or here.port in met:
                return None
            met[here.port] = poles[0][here is to]
        before, behind = met.get("line"), met.get("load")
        return (before, behind) if before and behind and before != behind else None

    def _ways(self) -> Iterator[Passage]:
        """The fuses of panels, and devices that stand between two wires."""
        for panel in self.plan.distribution.values():
            for way in panel.ways.values():
                feed = self._node(Terminal(panel.name, "", "positive"))
                yield Passage(way, "positive", feed, Terminal(panel.name, way.name, "positive"))
        for name, device in self._between_wires().items():
            linked = self._linked_poles(name)
            poles = POLES if self._breaks_positive(name) else POLES[1:]
            for before, behind in (linked,) if linked else zip(poles, poles, strict=True):
                line = self._node(Terminal(name, "line", before))
                load = self._node(Terminal(name, "load", behind))
                if line != load:
                    yield Passage(device, before, line, load)
        for name, selector in self.plan.selectors.items():
            for pole in POLES:
                common = self._node(Terminal(name, "common", pole))
                for side in SIDES:
                    end = self._node(Terminal(name, side, pole))
                    if end != common and name in self._wires_at:
                        yield Passage(selector, pole, common, end)


def _held_in_order(wire: Wire) -> None:
    """Raises Mistake where the devices of a wire do not stand in order within its length.

    With what is usual in the place of what nobody told they do so in every reading.
    """
    with unnoted():
        marks = marks_of(wire)
    known = [mark for mark in marks if mark is not None]
    if known != sorted(known):
        raise Mistake(
            f"the devices of wire `{wire.name}` do not stand in order within its length",
            "list them from the wire's start, with distances that fit its length",
            wire.inline[0].device.place,
        )
