"""The surroundings: temperatures, places and operating states."""

from __future__ import annotations

from functools import cached_property

from wattproof.codes import BodyOfRules
from wattproof.plan.fields import Named
from wattproof.plan.root import Plan
from wattproof.study.assumptions import Assumer
from wattproof.study.site.climate import Climate
from wattproof.study.site.places import Placed, hottest_of, placed
from wattproof.working import Value


class SiteSection:
    """What surrounds an installation."""

    def __init__(self, plan: Plan, code: BodyOfRules, assume: Assumer) -> None:
        self._plan = plan
        self._assume = assume
        self.climate = Climate(plan, code, assume)

    @cached_property
    def placed(self) -> tuple[Placed, ...]:
        """Banks and what can make a spark, each in its place."""
        return tuple(placed(self._plan))

    def hottest_of(self, component: Named) -> Value | None:
        """Hottest air around a component (°C); None where the plan does not tell."""
        return hottest_of(component, self._plan, self._assume)
