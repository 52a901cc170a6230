"""Distribution panels: what their ways carry together, and what may flow before anything opens."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.circuit import Passage
from wattproof.plan.devices import Distribution
from wattproof.plan.root import Plan
from wattproof.record import record
from wattproof.source import Place
from wattproof.study.protection.guards import Guard
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.working import Value, declared, smallest, total


@record
class PanelStudy:
    """A panel of known rating (A).

    drawn: lasting current of its ways together (A), None where nothing flows. most: what the
    devices before it and those of its ways let through for long (A). before: the device in the
    wire that alone feeds it; None where there is none, or there are several such wires.
    """

    panel: Distribution
    rating: Value
    drawn: Value | None
    most: Value
    before: Passage | None = None

    @property
    def name(self) -> str:
        """Its name."""
        return str(self.panel.name)

    @property
    def at(self) -> Place:
        """Where the plan names it."""
        return self.panel.at


def panels(
    plan: Plan, devices: dict[str, DeviceStudy], guards: tuple[Guard, ...]
) -> Iterator[PanelStudy]:
    """Every panel that tells its rating."""
    for panel in plan.distribution.values():
        if panel.rating is not None:
            rating = declared(panel.rating, f"In({panel.name})", f"rating of {panel.name}")
            feeds = [guard for guard in guards if _feeds(guard, panel)]
            drawn, most = _drawn(panel, devices), _most(panel, feeds)
            yield PanelStudy(panel, rating, drawn, most, _before(feeds))


def _drawn(panel: Distribution, devices: dict[str, DeviceStudy]) -> Value | None:
    ways = [devices.get(f"{panel.name}.{way}") for way in panel.ways]
    currents = [way.current for way in ways if way is not None and way.current is not None]
    if not currents:
        return None
    words = f"lasting current of all ways of {panel.name}"
    return total(currents).named(f"I({panel.name})", words, "A")


def _before(feeds: list[Guard]) -> Passage | None:
    if len(feeds) != 1:
        return None
    inside = [device for device in feeds[0].devices if device.wire is feeds[0].wire.wire]
    return inside[-1] if inside else None


def _most(panel: Distribution, feeds: list[Guard]) -> Value:
    ways = [
        declared(way.fuse, f"In({name})", f"fuse of {panel.name}.{name}")
        for name, way in panel.ways.items()
    ]
    fuses = total(ways).named(f"ΣIn({panel.name})", f"fuses of {panel.name} together", "A")
    limits = [fuses, *(guard.rating for guard in feeds)]
    words = f"what can flow in {panel.name} before anything opens"
    return smallest(limits).named(f"Imax({panel.name})", words, "A")


def _feeds(guard: Guard, panel: Distribution) -> bool:
    ends = (guard.part.start, guard.part.end)
    return any(end.component == panel.name and end.port == "" for end in ends)
