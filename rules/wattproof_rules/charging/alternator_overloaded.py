"""What vehicle chargers draw from an alternator against its rating."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.rule import (
    Change,
    Edit,
    Observation,
    Remedy,
    option,
    practice,
    record,
    rule,
    warning,
)
from wattproof.study import Study
from wattproof.study.charging.alternators import AlternatorLoad
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import enumerated, quoted
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "chargers draw at most half of an alternator's rating for long, since it must carry the "
        "vehicle too and gives about half of its rating when hot and idling"
    ),
}


@record
class Limits:
    """What a project may set."""

    usual: float = option(0.5, "Share of the alternator's rating that chargers may draw.")
    wrong: float = option(0.8, "Share of the rating from which it is an error.")


@rule(
    id="alternator-overloaded",
    summary="Input current of vehicle chargers against the rating of the alternator.",
    covers=("An alternator overloaded by a charger",),
    level="error",
    hazard="fire",
    part="controller",
    basis=BASIS,
    explanation="The rating on an alternator is what it gives cold and fast. Hot and idling it "
    "gives about half, and lamps, fans and the engine want their part of that. A vehicle charger "
    "takes its full current for hours, and more of it at the input than it gives at the output, "
    "because it raises the voltage and loses some. The alternator then runs at its limit in its "
    "own heat until its windings or its diodes fail.",
    caution=warning("An overheated alternator can burn, under a bonnet and beside the fuel."),
    since="0.1.0",
    sound=plan("alternator"),
    faulty=Edit("max_output_current: 110 A", "max_output_current: 70 A"),
    options=Limits,
)
def alternator_overloaded(study: Study, limits: Limits) -> Iterator[Observation]:
    for drawn in study.charging.alternator_loads:
        current = drawn.current
        share = (current / drawn.rating).named("s", "share of the alternator's rating", "%")
        if not exceeds(share, limits.usual):
            continue
        given = enumerated(f"{amps} to `{charger.name}`" for charger, amps in drawn.chargers)
        names = quoted(alternator.name for alternator in drawn.alternators)
        gives = "gives" if len(drawn.alternators) == 1 else "give"
        yield Observation(
            message=(
                f"{names} {gives} {given}: {share} of its {drawn.rating}, and "
                f"{limits.usual * 100:g} % is the most for long"
            ),
            on=(*drawn.alternators, *(charger for charger, _ in drawn.chargers)),
            values=(current, drawn.rating, share),
            margin=margin_below(share, limits.usual),
            remedy=_remedy(drawn, current.number, limits),
            level=None if exceeds(share, limits.wrong) else "warning",
        )


def _remedy(drawn: AlternatorLoad, current: float, limits: Limits) -> Remedy:
    """The setting that would do, or the alternator."""
    larger = math.ceil(current / limits.usual - 1e-9)
    allowed = limits.usual * drawn.rating.number / current
    settings: list[Change] = []
    for charger, _ in drawn.chargers:
        now = charger.limited_to or charger.max_output_current
        fit = math.floor(now.value * allowed + 1e-9)
        if fit >= 1:
            settings.append(Change(charger.name, "limited_to", f"{fit} A"))
    words = f"use an alternator of at least {larger} A with temperature control"
    single = drawn.alternators if len(drawn.alternators) == 1 else ()
    other = tuple(Change(a.name, "max_output_current", f"{larger} A") for a in single)
    if not settings:
        return Remedy(words, (other,))
    listed = enumerated(f"`{s.key}: {s.text}` in `{s.component}`" for s in settings)
    return Remedy(f"set {listed}; or {words}", (tuple(settings), other))
