"""The surroundings: temperatures, places and operating states."""

from __future__ import annotations

from wattproof.codes import BodyOfRules
from wattproof.kept import kept
from wattproof.plan.fields import Named
from wattproof.plan.root import Plan
from wattproof.plan.site import Surroundings
from wattproof.study.assumptions import Assumer
from wattproof.study.assumptions.devices import ELSEWHERE, NO_IGNITION_PROTECTION, NO_VENT
from wattproof.study.site.climate import Climate
from wattproof.study.site.places import NearBy, Placed, hottest_of, near_by, placed
from wattproof.working import Value


class SiteSection:
    """What surrounds an installation."""

    def __init__(self, plan: Plan, code: BodyOfRules, assume: Assumer) -> None:
        self._plan = plan
        self._assume = assume
        self.climate = Climate(plan, code, assume)

    @kept
    def placed(self) -> tuple[Placed, ...]:
        """Banks and what can make a spark, each in its place."""
        return tuple(placed(self._plan))

    @kept
    def near_by(self) -> tuple[NearBy, ...]:
        """Devices a hand's breadth from a part of a known place, where nothing tells theirs."""
        return tuple(near_by(self._plan))

    def is_there(self, device: NearBy) -> bool:
        """True where such a device is taken to stand in the place of the part beside it."""
        told = {"part": device.part, "distance": str(device.distance)}
        name, at = str(device.component.name), device.component.at
        return not self._assume.is_so(ELSEWHERE, name, at, usual=False, **told)[0]

    def hottest_of(self, component: Named) -> Value | None:
        """Hottest air around a component (°C); None where the plan does not tell."""
        return hottest_of(component, self._plan, self._assume)

    def is_vented(self, place: Surroundings) -> bool:
        """True where gas is led outside from a place, or is taken to be."""
        if place.vented is not None:
            return place.vented
        vented, _ = self._assume.is_so(NO_VENT, str(place.name), place.at, usual=True)
        return vented

    def is_ignition_protected(self, component: Named) -> bool:
        """True where a component cannot ignite gas or vapour; taken as not, where nothing says."""
        told: bool | None = getattr(component, "ignition_protected", None)
        if told is not None:
            return told
        name = str(component.name)
        return self._assume.is_so(NO_IGNITION_PROTECTION, name, component.at, usual=False)[0]
