"""What a larger fuse or breaker would no longer protect, and what it would let be overloaded."""

from __future__ import annotations

from collections.abc import Iterable

from wattproof.record import record
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.protection.guards import Guard
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import Value, total


@record
class Exposed:
    """A wire that is too thin for a device of another rating.

    through: what could flow for long into a stretch of it then (A).
    """

    wire: WireStudy
    through: Value

    def thicker(self) -> WireStudy | None:
        """The smallest size of it that would do; None where the tables have none."""
        sizes = self.wire.larger_sizes()
        return next(
            (s for s in sizes if s.is_protected_by(self.through) and not _is_overloaded(s)), None
        )


def exposed(guards: Iterable[Guard], device: DeviceStudy, rating: float) -> tuple[Exposed, ...]:
    """The wires behind a device that one of that rating (A) would leave unprotected.

    And those that do not carry their current, which the device as it is cuts short.
    """
    found: dict[str, Exposed] = {}
    for guard in guards:
        may = guard.wire.carrying
        is_behind = set(device.passages) & set(guard.limiting)
        if not is_behind or isinstance(may, str) or guard.wire.too_hot:
            continue
        through = guard.rating - device.rating + Value(rating, "A")
        ahead = total([device_rating(passage) for passage in guard.into]) if guard.into else through
        least = min(ahead, through, key=lambda amps: amps.number)
        if not may.is_protected_by(least) or _is_overloaded(guard.wire):
            found[guard.wire.name] = Exposed(guard.wire, through)
    return tuple(found.values())


def _is_overloaded(wire: WireStudy) -> bool:
    return wire.current is not None and bool(wire.fails(wire.current))
