"""What a plan does not say of things that no number and no rule carries."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wattproof.plan.fields import Named
from wattproof.plan.root import Plan
from wattproof.quantities import gauge_of
from wattproof.study.assumptions import Assumer
from wattproof.working import Assumption


def noted_of(plan: Plan, assume: Assumer) -> Iterator[Assumption]:
    """The mains side of inverters and chargers, frames of cabins, gauges of automotive cable."""
    shore = [charger for charger in plan.chargers.values() if charger.kind == "shore"]
    if converters := [*plan.inverters.values(), *shore]:
        yield assume.noted(
            "alternating current",
            "plan",
            f"The mains side of {_names(converters)} is no part of the plan and is not checked: "
            "its residual-current device, the bond of its neutral, which must not exist twice, "
            "and the lock that keeps an inverter from feeding back into shore power.",
            "a licensed electrician, who plans and tests it; no key tells it",
            converters[0].at,
        )
    strings = [s for s in plan.strings.values() if s.frames_bonded is None and not s.portable]
    if strings and plan.setting == "cabin":
        yield assume.noted(
            "bonding of frames",
            "strings",
            f"Whether the frames of {_names(strings)} are tied to earth is not stated; of metal "
            "they must be.",
            "frames_bonded: true",
            strings[0].at,
        )
    cables = plan.datasheets.cables.values()
    by_gauge = [c for c in cables if c.kind == "automotive" and gauge_of(c.size) is not None]
    if by_gauge:
        yield assume.noted(
            "gauge",
            "cables",
            f"The gauge of {_names(by_gauge)} is taken as AWG; automotive cable sold by SAE gauge "
            "has 5 to 12 % less copper.",
            "size, in mm² of copper",
            by_gauge[0].at,
        )


def _names(components: Iterable[Named]) -> str:
    return " and ".join(f"`{component.name}`" for component in components)
