"""What a larger fuse or breaker would no longer protect, and what it would let be overloaded."""

from __future__ import annotations

from collections.abc import Iterable

from wattproof.record import record
from wattproof.study.assumptions.ratings import device_rating
from wattproof.study.protection.answers import Allowed
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


def exposed_returns(
    allowed: Iterable[Allowed], device: DeviceStudy, rating: float
) -> tuple[Exposed, ...]:
    """The negatives, drawn for themselves, that one of that rating (A) would leave unprotected.

    And those that do not carry their current, which the device as it is cuts short.
    """
    found: dict[str, Exposed] = {}
    for answer in allowed:
        may = answer.wire.carrying
        is_behind = answer.kind == "return" and set(device.passages) & set(answer.limiting)
        alone = all(part.start.pole == "negative" for part in answer.wire.conductors)
        if not (is_behind and alone) or isinstance(may, str) or answer.wire.too_hot:
            continue
        through = answer.lasting - device.rating + Value(rating, "A")
        if not may.is_protected_by(through) or _is_overloaded(answer.wire):
            found[answer.wire.name] = Exposed(answer.wire, through)
    return tuple(found.values())


def _is_overloaded(wire: WireStudy) -> bool:
    return wire.current is not None and bool(wire.fails(wire.current))
