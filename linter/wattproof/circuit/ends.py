"""What each reference of a plan leads to, resolved once for all who ask."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from wattproof.circuit.elements import Terminal
from wattproof.circuit.single_poles import Joined, single_poles
from wattproof.kept import KeptEach, kept
from wattproof.plan.fields import Named, component_of
from wattproof.plan.root import Plan
from wattproof.plan.terminals import (
    POLES,
    Reached,
    by_name,
    is_in_the_way,
    resolve,
    wire_poles,
)
from wattproof.plan.wiring import Wire
from wattproof.quantities import Mistake
from wattproof.source import Text


class WireEnds(NamedTuple):
    """The two ends of a wire, and the pairs of poles that it joins: at its start and at its end."""

    start: Reached
    to: Reached
    poles: tuple[tuple[str, str], ...]


class _Mention(NamedTuple):
    """Where something is named that a wire or joint ends at.

    by: the wire or joint, and which of its ends or of its list. arrives: whether that is the line
    side of a device, where no side is named. far: the component from which it is named.
    """

    by: tuple[str, str]
    reference: Text
    arrives: bool
    far: str

    @property
    def of_joint(self) -> bool:
        """True where a joint lists it."""
        return self.by[0] == self.far

    @property
    def side(self) -> str:
        """The side that it means by itself, "line" or "load"."""
        return self.named or ("line" if self.arrives else "load")

    @property
    def named(self) -> str:
        """The side that it names; empty where it names none."""
        return next((s for s in self.reference.split(".")[1:] if s in ("line", "load")), "")


class Ends:
    """The components of a plan by name, and what wires, joints and the like lead to.

    Each raises Mistake where a reference leads to nothing, which the reader of plans tells first.
    """

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self.components: dict[str, Named] = by_name(plan)
        self._wires: KeptEach[str, WireEnds] = KeptEach()

    @kept
    def wires_at(self) -> dict[str, list[Wire]]:
        """The wires that end at each component, by its name."""
        found: dict[str, list[Wire]] = {}
        for wire in self._plan.wires.values():
            for name in set(wire.components):
                found.setdefault(name, []).append(wire)
        return found

    def of_wire(self, wire: Wire) -> WireEnds:
        """Those of a wire."""
        return self._wires.of(wire.name, lambda: self._of_wire(wire))

    def _of_wire(self, wire: Wire) -> WireEnds:
        ends = self._as_drawn(wire)
        only = next(filter(None, map(self.joint_poles.get, wire.components)), None)
        return _of_one_pole(ends, only) if only and len(ends.poles) > 1 else ends

    def _as_drawn(self, wire: Wire) -> WireEnds:
        """Those of a wire, with the pole that leads somewhere where one alone does."""
        return _of_one_pole(self._as_named(wire), self._single_poles.get(str(wire.name)))

    def _as_named(self, wire: Wire) -> WireEnds:
        """Those of a wire, by what it names, and at a device by what the wire behind that names."""
        ends = self._as_written(wire)
        start, to = (end.component in self._of_both_poles for end in (ends.start, ends.to))
        if not (start or to):
            return ends
        first, last = ends.poles[0]
        return ends._replace(poles=((POLES[0] if start else first, POLES[0] if to else last),))

    def _as_written(self, wire: Wire) -> WireEnds:
        start, to = map(self._reached, _ends_of(wire))
        return WireEnds(start, to, tuple(wire_poles(wire, start, to)))

    @kept
    def _of_both_poles(self) -> frozenset[str]:
        """Devices one behind the other between two wires, named by a positive and by a negative.

        As between two batteries in series: the devices are of the first pole for both.
        """
        found: set[str] = set()
        try:
            for name in self.wires_at:
                if name not in found and self._is_in_the_way(name):
                    chain, met = self._chain_of(name)
                    found |= chain if sorted(met) == sorted(POLES) else set()
        except Mistake:  # which is told where its wire is built
            return frozenset()
        return frozenset(found)

    def _chain_of(self, name: str) -> tuple[set[str], list[str]]:
        """A device with those that wires of no named pole join to it, and the poles around them.

        No poles where a wire of both poles leads on.
        """
        chain, met, left = {name}, list[str](), [name]
        while left:
            here = left.pop()
            for wire in self.wires_at[here]:
                ends = self._as_written(wire)
                start, to = ends.start.component, ends.to.component
                far = to if start == here else start
                if len(ends.poles) == 1:
                    met.append(ends.poles[0][start != here])
                elif self._is_in_the_way(far):
                    left += [far] if far not in chain else []
                    chain.add(far)
                else:
                    return chain, []
        return chain, met

    def _is_in_the_way(self, name: str) -> bool:
        return name in self.components and is_in_the_way(self.components[name])

    @kept
    def _single_poles(self) -> dict[str, str]:
        """Wires of two poles by their names, of which only one leads anywhere, with that one."""
        try:
            return single_poles(self._all_joined(), self.components)
        except Mistake:  # which is told where its wire is built
            return {}

    @kept
    def joint_poles(self) -> dict[str, str]:
        """Joints of one pole, such as a branch of two plugs into one, each with that pole."""
        try:
            return dict(self._joint_poles())
        except Mistake:  # which is told where its wire is built
            return {}

    def _joint_poles(self) -> Iterator[tuple[str, str]]:
        """What leads on from them is of one pole, and the strings lead elsewhere with the other."""
        strings = self._plan.strings
        mentions = Counter(
            name
            for listed in (
                *(wire.components for wire in self._plan.wires.values()),
                *({r.component for r in each} for each in self._listed_in.values()),
            )
            for name in listed
        )
        for joint, each in self._listed_in.items():
            met = {pole for r in each if (pole := r.pole)}
            brought = {r.component for r in each}
            for wire in self.wires_at.get(joint, ()):
                start, to, poles = self._as_drawn(wire)
                far = to.component if start.component == joint else start.component
                brought.add(far)
                if len(poles) == 1 or far not in strings:
                    met |= {pair[start.component != joint] for pair in poles}
            if len(met) == 1 and all(mentions[name] > 1 for name in brought & strings.keys()):
                yield joint, met.pop()

    def _all_joined(self) -> Iterator[Joined]:
        for wire in self._plan.wires.values():
            yield Joined(str(wire.name), *self._as_named(wire))
        for name, each in self._listed_in.items():
            here = Reached(name, "", None)
            for there in each:
                poles = tuple((p, p) for p in POLES if there.pole in (None, p))
                yield Joined(f"{name} {there.component}", here, there, poles)
        for name, tied in self.bonds.items():
            start = Reached(tied.component, tied.port, tied.pole)
            yield Joined(name, start, None, ((tied.pole, tied.pole),))

    def _reached(self, mention: _Mention) -> Reached:
        arrives = mention.arrives != (mention.by in self._turned)
        return resolve(mention.reference, self.components, arriving=arrives)

    @kept
    def _turned(self) -> frozenset[tuple[str, str]]:
        """Where a device is named from its two sides and both would mean one: the later is turned.

        So a joint that lists a fuse at which a wire ends is behind the fuse, and not beside it.
        """
        mentions: dict[str, list[_Mention]] = {}
        for mention in self._mentions():
            name = component_of(mention.reference)
            if name in self.components and is_in_the_way(self.components[name]):
                mentions.setdefault(name, []).append(mention)
        turned = []
        for name, both in mentions.items():
            if len(both) != 2:
                continue
            first, second = both
            if getattr(self.components[name], "polarised", None) and not (
                first.of_joint or second.of_joint
            ):
                continue  # which way round it is mounted has to be told
            alike = first.side == second.side and first.far != second.far
            if alike and not (first.named and second.named):
                turned.append((first if second.named else second).by)
        return frozenset(turned)

    def _mentions(self) -> Iterator[_Mention]:
        for wire in self._plan.wires.values():
            yield from _ends_of(wire)
        for name in self._plan.combiners:
            yield from self._listed(name)

    def _listed(self, joint: str) -> Iterator[_Mention]:
        for reference in self._plan.combiners[joint].joins or ():
            yield _Mention((joint, str(reference)), reference, True, joint)

    @kept
    def joined(self) -> dict[str, tuple[Reached, ...]]:
        """What each joint lists, in its order; at a joint of one pole by that."""
        return {
            name: tuple(r._replace(pole=r.pole or self.joint_poles.get(name)) for r in each)
            for name, each in self._listed_in.items()
        }

    @kept
    def _listed_in(self) -> dict[str, tuple[Reached, ...]]:
        """What each joint lists, as it is named there."""
        return {
            str(name): tuple(map(self._reached, self._listed(name)))
            for name in self._plan.combiners
        }

    @kept
    def bonds(self) -> dict[str, Terminal]:
        """The terminal that each bond begins at; of a reference without a pole the negative."""
        found = {}
        for name, bond in self._plan.bonds.items():
            start = resolve(bond.start, self.components, arriving=False)
            found[str(name)] = Terminal(start.component, start.port, start.pole or "negative")
        return found

    @kept
    def arresters(self) -> dict[str, Reached]:
        """What each arrester lies across."""
        arresters = self._plan.arresters.items()
        return {str(name): resolve(each.across, self.components) for name, each in arresters}

    @kept
    def readings(self) -> dict[str, Reached]:
        """What each reading was taken at."""
        readings = self._plan.readings.items()
        return {str(n): resolve(each.at_terminal, self.components) for n, each in readings}


def _of_one_pole(ends: WireEnds, pole: str | None) -> WireEnds:
    return ends._replace(poles=((pole, pole),)) if pole else ends


def _ends_of(wire: Wire) -> tuple[_Mention, _Mention]:
    return (
        _Mention((str(wire.name), "from"), wire.start, False, component_of(wire.to)),
        _Mention((str(wire.name), "to"), wire.to, True, component_of(wire.start)),
    )
