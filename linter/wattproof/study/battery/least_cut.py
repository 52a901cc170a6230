"""The overcurrent devices with the least sum of ratings that cut a place off all banks.

The largest flow through a network is its least cut: Ford and Fulkerson, "Maximal flow through a
network", Canadian J. Math. 8, 1956. What opens by itself has room for its rating; all else joins
without limit. Most questions take one element away: only what that one joins is grouped anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet

from wattproof.circuit import Part, Passage, Terminal, is_overcurrent
from wattproof.circuit.groups import Groups
from wattproof.circuit.walk import Walk
from wattproof.kept import KeptEach
from wattproof.study.assumptions.ratings import amps_of


class LeastCuts:
    """Of what joins banks and places, in rings and between banks.

    elements: all of it. banks: their terminals, one at least.
    """

    def __init__(self, elements: Iterable[Part], banks: Iterable[Terminal]) -> None:
        self.banks = tuple(banks)
        self.groups: Groups[Terminal] = Groups()
        joining: list[Part] = []
        devices: list[Passage] = []
        for element in elements:
            if is_overcurrent(element):
                devices.append(element)
            else:
                self.groups.join(element.start, element.end)
                joining.append(element)
        self.devices = sorted(devices, key=lambda d: str(d.name))
        self.joining: dict[Terminal, list[Part]] = {}
        for element in joining:
            self.joining.setdefault(self.groups.of(element.start), []).append(element)
        self._without: KeptEach[frozenset[Part], Without] = KeptEach()

    def without(self, away: frozenset[Part], element: Part | None = None) -> Without:
        """The mesh with some elements away, kept by these, and with one more."""
        if element is not None:
            return Without(self, away | {element})
        return self._without.of(away, lambda: Without(self, away))


class Without:
    """A mesh with some elements away."""

    def __init__(self, cuts: LeastCuts, away: AbstractSet[Part]) -> None:
        self._groups = cuts.groups
        self._anew = self._grouped_anew(cuts.joining, away)
        self._source = self._group(cuts.banks[0])
        self._banks = {self._group(bank) for bank in cuts.banks}
        self._devices = [
            (self._joined(d.start), self._joined(d.end), d) for d in cuts.devices if d not in away
        ]
        self._cuts: KeptEach[Terminal, tuple[Passage, ...] | None] = KeptEach()

    def cut(self, target: Terminal) -> tuple[Passage, ...] | None:
        """The devices with the least sum of ratings that cut off a terminal.

        Empty where a way without any device leads to it, None where no bank reaches it.
        """
        sink = self._joined(target)
        return () if sink == self._source else self._cuts.of(sink, lambda: self._cut(sink))

    def is_before_all(self, target: Terminal) -> bool:
        """True where a way without any device leads from a bank to a terminal."""
        return self._joined(target) == self._source

    @property
    def first(self) -> tuple[Passage, ...]:
        """The devices that part all banks from everything."""
        source = self._source
        return tuple(d for a, b, d in self._devices if (a == source) != (b == source))

    def _cut(self, sink: Terminal) -> tuple[Passage, ...] | None:
        room: dict[Terminal, dict[Terminal, float]] = {self._source: {}, sink: {}}
        for a, b, device in self._devices:
            for x, y in ((a, b), (b, a)):
                row = room.setdefault(x, {})
                row[y] = row.get(y, 0.0) + amps_of(device)
        if sink not in _flooded(room, self._source, dry=-1.0):
            return None
        while sink in (near := _flooded(room, self._source)):
            _fill(room, near.passed(sink))
        return tuple(device for a, b, device in self._devices if (a in near) != (b in near))

    def _grouped_anew(
        self, joining: Mapping[Terminal, list[Part]], away: AbstractSet[Part]
    ) -> dict[Terminal, Terminal]:
        """For each terminal of a group that something was taken from, what stands for it now."""
        anew: Groups[Terminal] = Groups()
        taken_from = {self._groups.of(p.start): None for p in away if not is_overcurrent(p)}
        for group in taken_from:
            for element in joining.get(group, ()):
                for end in (element.start, element.end):
                    anew.of(end)
                if element not in away:
                    anew.join(element.start, element.end)
        return {terminal: anew.of(terminal) for terminal in anew}

    def _group(self, terminal: Terminal) -> Terminal:
        return self._anew.get(terminal) or self._groups.of(terminal)

    def _joined(self, terminal: Terminal) -> Terminal:
        """What stands for all that is joined with a terminal; banks are all one."""
        group = self._group(terminal)
        return self._source if group in self._banks else group


def _flooded(
    room: Mapping[Terminal, Mapping[Terminal, float]], source: Terminal, dry: float = 1e-9
) -> Walk[Terminal, tuple[Terminal, Terminal]]:
    """Groups that a further current from the source can reach."""
    return Walk(
        [source],
        lambda here: (((here, there), there) for there, amps in room[here].items() if amps > dry),
    )


def _fill(
    room: dict[Terminal, dict[Terminal, float]], way: list[tuple[Terminal, Terminal]]
) -> None:
    """Send as much current as there is room for along the way just found."""
    amps = min(room[a][b] for a, b in way)
    for a, b in way:
        room[a][b] -= amps
        room[b][a] += amps
