"""What a distribution panel may come to carry, against its rating."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wattproof.codes import NotTabulated
from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.study.protection.panels import PanelStudy, UnratedPanel
from wattproof.study.wiring.devices import rated
from wattproof.working import LookUp, tabled
from wattproof_rules.plans import plan

BASIS = {
    "nec-2023": Clause(
        "NEC 408.36",
        "2023",
        "a panel has a device before it that is not larger than the rating of the panel",
        verified=False,
    ),
    "common practice": practice(
        "the loads of a panel together stay within its rating, and the device before it opens "
        "before the panel is overloaded"
    ),
}

SMALL = tabled(60.0, "A", "Ismall", "rating of the feed of small panels", "common practice")
RATING = LookUp(
    "what the feed of {names} is rated for", "on it or in its datasheet, in A; write it as `rating`"
)

MORE = """\
fuses:
  panel-fuse: {rating: 40 A, voltage: 125 V, style: class-t, interrupt: 20 kA, dc: true}
distribution:
  panel:
    rating: 60 A
    voltage: 60 V
    ways: {fridge: {fuse: 15 A, style: blade}, lights: {fuse: 10 A, style: blade}}
loads:
  fridge: {current: 5 A, nominal: 12 V}
  lights: {current: 4 A, nominal: 12 V}
wires:
  panel-feed: {from: bar, to: panel, cable: batt-8, length: 3 m, place: cabin,
               inline: [{panel-fuse: {from_end: from, distance: 10 cm}}]}
  fridge-run: {from: panel.fridge, to: fridge, cable: batt-8, length: 2 m, place: cabin}
  lights-run: {from: panel.lights, to: lights, cable: batt-8, length: 2 m, place: cabin}
"""


@rule(
    id="panel-over-rating",
    summary="Loads of a panel and the device before it against the rating of the panel.",
    covers=("A panel or fuse block overloaded",),
    level="error",
    hazard="fire",
    part="connector",
    basis=BASIS,
    explanation="All ways of a panel hang on one strip of metal, which is rated for less than the "
    "sum of what its fuses let through. Each fuse guards its own wire and knows nothing of the "
    "others. Only a device before the panel that is no larger than the panel's rating opens when "
    "all of them together are too much.",
    caution=warning("An overloaded panel gets hot where its fuses are clipped in, and can burn."),
    since="0.1.0",
    sound=plan(
        "van-inverter",
        less=(
            "inverters",
            "wires.inverter-run",
        ),
        more=MORE,
    ),
    faulty=Edit("rating: 60 A\n    voltage: 60 V", "rating: 8 A\n    voltage: 60 V"),
)
def panel_over_rating(study: Study) -> Iterator[Observation]:
    for panel in study.protection.panels:
        rating, drawn, most = panel.rating, panel.drawn, panel.held.through
        over = panel.is_overloaded and (panel.held.reason is None or panel.is_overloaded_for_sure)
        if drawn is not None and over:
            yield Observation(
                message=(
                    f"the loads of `{panel.name}` draw {drawn} together; it is rated {rating}"
                ),
                on=(panel,),
                values=(drawn, rating),
                margin=margin_below(drawn, rating),
                remedy=_larger(panel.name, f"{math.ceil(drawn.number - 1e-9)} A"),
            )
        elif panel.held.reason is not None:
            flows = (
                f"up to {most} can flow in `{panel.name}` before anything opens"
                if math.isfinite(most.number)
                else f"nothing limits what can flow in `{panel.name}`"
            )
            yield Observation(
                message=f"{flows}; it is rated {rating}",
                on=(panel,),
                values=(most, rating),
                margin=margin_below(most, rating),
                remedy=_before(panel, study),
                level="warning",
            )
    for untold in study.protection.unrated_panels:
        if exceeds(untold.drawn, SMALL):
            yield _unrated(untold)


def _unrated(panel: UnratedPanel) -> Observation:
    return Observation(
        message=f"the loads of `{panel.name}` draw {panel.drawn} together, and no rating of it is "
        f"told; small ones are sold for {SMALL}",
        on=(panel,),
        values=(panel.drawn, SMALL),
        asks=RATING,
    )


def _larger(panel: str, amps: str) -> Remedy:
    return Remedy(
        f"use a panel rated at least {amps}, with a device of no more than its rating before it, "
        "or divide the loads over two",
        ((Change(panel, "rating", amps),),),
    )


def _before(panel: PanelStudy, study: Study) -> Remedy:
    """The device before it made smaller, where it has one alone; else words."""
    words = f"put a fuse or breaker of at most {panel.rating} before `{panel.name}`"
    device = panel.before
    if device is None:
        return Remedy(words)
    try:
        rating = study.codes.battery.previous_rating(panel.rating.number)
    except NotTabulated:
        return Remedy(words)
    return Remedy(f"{words}, such as {rating:g} A for `{device.name}`", ((rated(device, rating),),))
