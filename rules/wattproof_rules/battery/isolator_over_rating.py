"""Diode isolators, by the current of their sources."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import quoted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice("a diode isolator is rated for all that its sources give together"),
}


@rule(
    id="isolator-over-rating",
    summary="Current of the sources of a diode isolator against its rating.",
    covers=("A diode isolator overloaded",),
    level="error",
    hazard="fire",
    part="battery",
    basis=BASIS,
    explanation="A diode turns some 0.7 V of all that passes into heat: at a hundred amperes as "
    "much as a small stove. An isolator is built to get rid of that up to its rating. "
    "Above it the diodes run hot until they fail, most often as a short, and then one "
    "battery feeds the other through a lead that nobody thought of.",
    caution=warning("An overloaded isolator gets hot enough to set fire to what touches it."),
    since="0.2.0",
    sound=plan("van-isolator"),
    faulty=Edit("splitter: {rating: 120 A", "splitter: {rating: 70 A"),
)
def isolator_over_rating(study: Study) -> Iterator[Observation]:
    for each in study.charging.isolated:
        if not exceeds(each.current, each.rating):
            continue
        names = quoted(source.name for source in each.sources)
        amps = f"{math.ceil(each.current.number - 1e-9)} A"
        yield Observation(
            message=(
                f"`{each.isolator.name}` carries up to {each.current} from {names} and is rated "
                f"{each.rating}"
            ),
            on=(each.isolator, *each.sources),
            values=(each.current, each.rating),
            margin=margin_below(each.current, each.rating),
            remedy=Remedy(
                f"use an isolator rated at least {amps}",
                ((Change(each.isolator.name, "rating", amps),),),
            ),
        )
