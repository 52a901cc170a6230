"""What the judge of protection answers of a stretch: verdicts, reasons, and which decides."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final, Literal, TypeAlias

from wattproof.circuit import Conductor, Passage
from wattproof.record import record
from wattproof.study.battery.positive_net import (
    Devices,
    rating_of,
)
from wattproof.study.protection.guards import Exit, Guard
from wattproof.study.protection.spans import Span, length_of
from wattproof.study.wiring.wires import WireStudy
from wattproof.words import quoted
from wattproof.working import Value

Verdict: TypeAlias = Literal["limited", "cleared", "short enough", "not known", "not allowed"]
Reason: TypeAlias = Literal[
    "no device",
    "only in the other pole",
    "too far",
    "belongs to another source",
    "at one end at most",
    "too large",
    "cannot break it",
    "would open a switch rated below",
]
Kind: TypeAlias = Literal["bank", "output", "string", "siblings", "array", "return"]

WORST_FIRST: Final[tuple[Verdict, ...]] = (
    "not allowed",
    "not known",
    "short enough",
    "cleared",
    "limited",
)
GRAVEST_FIRST: Final[tuple[Reason, ...]] = (
    "no device",
    "only in the other pole",
    "belongs to another source",
    "at one end at most",
    "too far",
    "cannot break it",
    "too large",
    "would open a switch rated below",
)


@record
class Allowed:
    """What one source, or several that come in together, may do to a stretch.

    kind: a bank, the output of a controller or charger, the strings behind it, the others beside a
    single string or the rest of the array, or banks whose current comes back through a negative.
    sources: their names. fed_at: the component at the end where they come in, empty where none is
    there. devices: the stretch's own, which is named and mended; else those that limit the current.
    lasting: what can flow for long (A), without limit where nothing opens. most: what that must
    stay within (A): the largest device that protects the conductor, or what it carries; None where
    that is not known. reason: why it is not allowed, None where it is. why: the same in words.
    bare, bare_at_most: how much conductor is without a device (m) and how much may be, where that
    decides. way: the way out of the bank that decides. guard: what banks feed it through. brings:
    for a negative, the wire whose current comes back through it. drives: what a limited source
    gives before anything opens (A). in_time: where the one device fits by its rating, but surely
    opens only above what the conductor stands: the largest rating that opens in time (A).
    limited_by: the devices that limit the current, where they are not those that are named.
    returned: of a negative, the devices that limit all that comes back through it, each its own
    part; none where a part has no device.
    """

    part: Conductor
    wire: WireStudy
    kind: Kind
    sources: tuple[str, ...]
    fed_at: str
    devices: Devices
    lasting: Value
    most: Value | None
    verdict: Verdict
    reason: Reason | None
    why: str
    bare: Span | None = None
    bare_at_most: Value | None = None
    way: Exit | None = None
    guard: Guard | None = None
    brings: WireStudy | None = None
    drives: Value | None = None
    in_time: Value | None = None
    limited_by: Devices = ()
    returned: Devices = ()

    @property
    def limiting(self) -> Devices:
        """Those that limit the current: the stretch's own, or what stands before them."""
        return self.limited_by or self.devices

    @property
    def in_all(self) -> tuple[Devices, Value]:
        """What limits all that flows for long, and how much that is (A).

        Of a negative each part that comes back is judged by itself; all together may be more, or
        less than what feeds them all lets through.
        """
        if not self.returned:
            return self.limiting, self.lasting
        words = f"ratings of all devices whose current {self.wire.name} returns"
        return self.returned, rating_of(self.returned, words, self.wire.name)

    @property
    def opens(self) -> bool:
        """True where a device of fitting rating is in the way of all that comes in here."""
        near = self.verdict == "short enough" and self.way is None and bool(self.devices)
        return near or self.verdict in ("cleared", "limited")

    @property
    def trips_late(self) -> bool:
        """True where the device fits by its rating, and surely opens only after harm is done."""
        return self.in_time is not None

    @property
    def bare_length(self) -> Value:
        """How much conductor is without a device (m), at least, with its working."""
        words = f"length of {self.wire.name} before its device"
        return length_of((self.part,), f"Lbare({self.wire.name})", words)


def worst_of(allowed: Iterable[Allowed]) -> Allowed | None:
    """The answer that decides for a stretch: the worst verdict, and of these the gravest reason."""
    return min(allowed, key=_gravity, default=None)


def _gravity(allowed: Allowed) -> tuple[int, int]:
    grave = GRAVEST_FIRST.index(allowed.reason) if allowed.reason else len(GRAVEST_FIRST)
    return WORST_FIRST.index(allowed.verdict), grave


def names_of(devices: Iterable[Passage]) -> str:
    """Names of devices as a sentence lists them."""
    return quoted(dict.fromkeys(device.name for device in devices))


def told_of(devices: Iterable[Passage], does: str) -> str:
    """What devices do, in a word that ends in s for a single one."""
    names = names_of(devices)
    return f"{names} {does if names.count('`') <= 2 else does.removesuffix('s')}"
