"""What a circuit is made of: terminals, and two-terminal elements between them."""

from __future__ import annotations

from typing import NamedTuple, TypeAlias, TypeGuard

from wattproof.plan.array import String
from wattproof.plan.datasheets import ModuleSheet
from wattproof.plan.devices import Breaker, Device, Fuse, Way
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

    pole: the pole of the wire's start. length: m, None where the place of a device is not stated.
    begins, ends: how far from the wire's start (m), each as the least and the most that it can be.
    """

    wire: Wire
    pole: str
    start: Terminal
    end: Terminal
    length: float | None
    begins: tuple[float, float]
    ends: tuple[float, float]

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


Part: TypeAlias = Conductor | Passage
Element: TypeAlias = Part | Source

OVERCURRENT = (Fuse, Breaker, Way)


def is_overcurrent(element: Element) -> TypeGuard[Passage]:
    """True for a device that opens by itself when the current is too large."""
    return isinstance(element, Passage) and isinstance(element.device, OVERCURRENT)


def other_end(element: Element, here: Terminal) -> Terminal:
    """Where an element leads to from one of its ends."""
    return element.end if element.start == here else element.start


def place_of(element: Element) -> Place:
    """Where the plan names the element."""
    if isinstance(element, Conductor):
        return element.wire.at
    return element.device.at if isinstance(element, Passage) else element.string.at
