"""What a circuit is made of: terminals, and two-terminal elements between them."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple, TypeAlias, TypeGuard

from wattproof.kept import kept
from wattproof.plan.array import String
from wattproof.plan.datasheets import ModuleSheet
from wattproof.plan.devices import Breaker, Device, Fuse, Switch, Way
from wattproof.plan.fields import Named
from wattproof.plan.wiring import Inline, Wire
from wattproof.record import record
from wattproof.source import Place


class Terminal(NamedTuple):
    """One pole of a port of a component, or a joint inside a wire or a string ("#1")."""

    component: str
    port: str
    pole: str


@record
class Conductor:
    """One conductor of a wire between two terminals or inline devices.

    pole: the pole of the wire's start. first, last: its ends among the marks of the wire.
    """

    wire: Wire
    pole: str
    start: Terminal
    end: Terminal
    first: int
    last: int

    @kept
    def length(self) -> float | None:
        """How long it is (m); None where the place of a device is not stated."""
        marks = marks_of(self.wire)
        begin, end = marks[self.first], marks[self.last]
        return None if begin is None or end is None else end - begin

    @kept
    def begins(self) -> tuple[float, float]:
        """How far from the wire's start it begins (m), at the least and at the most."""
        return _reach(marks_of(self.wire), self.first)

    @kept
    def ends(self) -> tuple[float, float]:
        """How far from the wire's start it ends (m), at the least and at the most."""
        return _reach(marks_of(self.wire), self.last)

    @property
    def name(self) -> str:
        """The wire's name."""
        return str(self.wire.name)


@record
class Passage:
    """One pole of a device in the way of the current; closed.

    inline: how the wire holds it, None for a device that stands between two wires or in a panel.
    """

    device: Device | Way
    pole: str
    start: Terminal
    end: Terminal
    wire: Wire | None = None
    inline: Inline | None = None

    @property
    def name(self) -> str:
        """The device's name."""
        return str(self.device.name)


@record
class Source:
    """Modules in series as wired by their own leads, from negative to positive terminal."""

    string: String
    modules: tuple[ModuleSheet, ...]
    index: int
    start: Terminal
    end: Terminal

    @property
    def name(self) -> str:
        """The string's name, with a number where the plan's short form makes several of it."""
        return f"{self.string.name}-{self.index}" if self.index else str(self.string.name)


def marks_of(wire: Wire) -> list[float | None]:
    """Distances (m) from the start of a wire: 0, each inline device, its length."""
    return [0.0, *(_mark(wire, inline) for inline in wire.inline), wire.length.value]


def _mark(wire: Wire, inline: Inline) -> float | None:
    """Distance (m) of an inline device from the start of its wire."""
    if inline.distance is None:
        return None
    distance = inline.distance.value
    return distance if inline.from_end == "from" else wire.length.value - distance


def _reach(marks: list[float | None], index: int) -> tuple[float, float]:
    """The least and the most that a mark can be: between those beside it that are stated."""
    own = marks[index]
    if own is not None:
        return own, own
    before = [mark for mark in marks[:index] if mark is not None]
    after = [mark for mark in marks[index:] if mark is not None]
    return before[-1], after[0]


Part: TypeAlias = Conductor | Passage
Element: TypeAlias = Part | Source

OVERCURRENT = (Fuse, Breaker, Way)


def is_overcurrent(element: Element) -> TypeGuard[Passage]:
    """True for a device that opens by itself when the current is too large."""
    return isinstance(element, Passage) and isinstance(element.device, OVERCURRENT)


def is_relay(element: Element) -> bool:
    """True for a switch that closes by itself while one of the batteries beside it is charged."""
    device = element.device if isinstance(element, Passage) else None
    return isinstance(device, Switch) and device.closes_above is not None


def is_of(element: Element, devices: Collection[Named]) -> bool:
    """True for a way through one of some devices."""
    return isinstance(element, Passage) and any(element.device is each for each in devices)


def other_end(element: Element, here: Terminal) -> Terminal:
    """Where an element leads to from one of its ends."""
    return element.end if element.start == here else element.start


def place_of(element: Element) -> Place:
    """Where the plan names the element."""
    if isinstance(element, Conductor):
        return element.wire.at
    return element.device.at if isinstance(element, Passage) else element.string.at
