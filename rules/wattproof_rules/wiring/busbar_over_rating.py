"""The current through a busbar against what it is rated for."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.wiring.busbars import BusbarStudy
from wattproof.working import LookUp, Value, declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a busbar is rated for a lasting current, printed on it; what flows in at some of its "
        "studs flows along it to the others"
    ),
}

SMALLEST = tabled(
    100.0, "A", "Ismall", "rating of the smallest busbars with studs", "common practice"
)
RATING = LookUp(
    "the rating of {names}", "on its body or in its datasheet, in A; write it as `rating`"
)


@rule(
    id="busbar-over-rating",
    summary="Largest lasting current through a busbar against its rating.",
    covers=("A busbar overloaded",),
    level="error",
    hazard="fire",
    part="connector",
    basis=BASIS,
    explanation="A busbar gathers the currents of everything that is bolted to it, and the strip "
    "between the battery's stud and the next one carries them all together. It warms with the "
    "square of that sum, its studs loosen as it warms and cools, and a loose stud is the hottest "
    "place of all. The fuses of the branches do not notice: each of them carries only its share.",
    caution=warning(
        "An overloaded busbar heats its studs and cover for hours without a fuse opening."
    ),
    since="0.1.0",
    sound=plan("van-in-sun-inverter"),
    faulty=Edit("main-bar: {rating: 150 A", "main-bar: {rating: 75 A"),
)
def busbar_over_rating(study: Study) -> Iterator[Observation]:
    for bar in study.wiring.busbars:
        if bar.busbar.rating is None:
            if "rating" not in bar.busbar.open and exceeds(bar.through, SMALLEST):
                yield _untold(bar)
            continue
        rating = declared(bar.busbar.rating, f"In({bar.name})", f"rating of {bar.name}")
        through = bar.through
        if not exceeds(through, rating):
            continue
        always = bar.at_least > rating.number or _is_fused_larger(bar, study)
        most = bar.legs[0][0]
        feed = f"`{most}`" if most in study.wiring.wires else "the lead to the controller"
        yield Observation(
            message=f"{through} passes through `{bar.name}`, most of it by {feed}, and it is rated "
            f"{rating}",
            on=(bar,),
            values=(through, rating),
            margin=margin_below(through, rating),
            remedy=_remedy(bar, through, "" if always else feed, study),
            level=None if always else "warning",
        )


def _untold(bar: BusbarStudy) -> Observation:
    return Observation(
        message=f"{bar.through} passes through `{bar.name}`, of which no rating is told; the "
        f"smallest with studs are sold for {SMALLEST}",
        on=(bar,),
        values=(bar.through, SMALLEST),
        asks=RATING,
    )


def _is_fused_larger(bar: BusbarStudy, study: Study) -> bool:
    """True where fuses let more through it for long: then no order of its legs helps."""
    return any(h.name == bar.name and h.reason is not None for h in study.protection.held)


def _remedy(bar: BusbarStudy, through: Value, feed: str, study: Study) -> Remedy:
    """A bar for what passes, and for what the fuse before it lets through for long."""
    lasting = [h.through.number for h in study.protection.held if h.name == bar.name]
    amps = f"{math.ceil(max(through.number, *lasting, 0.0) - 1e-9)} A"
    middle = f", or join {feed} in the middle, with the rest on both sides" if feed else ""
    return Remedy(
        f"use a bar rated at least {amps}{middle}", ((Change(bar.name, "rating", amps),),)
    )
