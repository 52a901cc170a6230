"""Distribution panels: what their ways carry together, and what may flow before anything opens."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.circuit import Passage
from wattproof.plan.devices import Distribution
from wattproof.plan.root import Plan
from wattproof.record import record
from wattproof.source import Place
from wattproof.study.limits import exceeds, exceeds_for_sure
from wattproof.study.protection.guards import Guard
from wattproof.study.protection.held import Held
from wattproof.study.wiring.devices import DeviceStudy
from wattproof.working import Value, total


@record
class PanelStudy:
    """A panel of known rating (A).

    held: what the devices before it and those of its ways let through for long. drawn: lasting
    current of its ways together (A), None where nothing flows. before: the device in the wire that
    alone feeds it; None where there is none, or there are several such wires.
    """

    panel: Distribution
    held: Held
    drawn: Value | None
    before: Passage | None = None

    @property
    def name(self) -> str:
        """Its name."""
        return str(self.panel.name)

    @property
    def at(self) -> Place:
        """Where the plan names it."""
        return self.panel.at

    @property
    def rating(self) -> Value:
        """As printed (A)."""
        return self.held.rating

    @property
    def is_overloaded(self) -> bool:
        """True where its loads draw more than it is rated for."""
        return self.drawn is not None and exceeds(self.drawn, self.rating)

    @property
    def is_overloaded_for_sure(self) -> bool:
        """True where that is told, and not only asked for."""
        return self.drawn is not None and exceeds_for_sure(self.drawn, self.rating)


@record
class UnratedPanel:
    """A panel of which no rating is told, and the lasting current of its ways together (A)."""

    panel: Distribution
    drawn: Value

    @property
    def name(self) -> str:
        """Its name."""
        return str(self.panel.name)

    @property
    def at(self) -> Place:
        """Where the plan names it."""
        return self.panel.at


def panels(
    held: Iterable[Held], devices: dict[str, DeviceStudy], guards: tuple[Guard, ...]
) -> Iterator[PanelStudy]:
    """Every panel that tells its rating."""
    for each in held:
        if isinstance(each.part, Distribution):
            feeds = [guard for guard in guards if _feeds(guard, each.part)]
            yield PanelStudy(each.part, each, _drawn(each.part, devices), _before(feeds))


def unrated(plan: Plan, devices: dict[str, DeviceStudy]) -> Iterator[UnratedPanel]:
    """Every panel that draws something and tells no rating."""
    for panel in plan.distribution.values():
        if panel.rating is None:
            drawn = _drawn(panel, devices)
            if drawn is not None:
                yield UnratedPanel(panel, drawn)


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


def _feeds(guard: Guard, panel: Distribution) -> bool:
    ends = (guard.part.start, guard.part.end)
    return any(end.component == panel.name and end.port == "" for end in ends)
