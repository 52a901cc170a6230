"""Sun that modules lose by lying level where the winter sun is low."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from wattproof.rule import Change, Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.words import quoted
from wattproof_rules.plans import plan

if TYPE_CHECKING:
    from wattproof.study.energy.sun_hours import Lying

BASIS = {
    "common practice": practice(
        "where winter counts, modules are raised towards the noon sun, about 15° steeper than the "
        "latitude, or a module that can be raised is carried along"
    ),
}

MORE = """\
strings:
  roof-string: {module: rigid-100, series: 2, mounting: open-rack,
                tilt: 60°, facing: south}
"""


@record
class Limits:
    """What a project may set."""

    lost: float = option(0.50, "Share of a clear winter day's sun that lying level may cost.")


@rule(
    id="flat-winter-loss",
    summary="Sun lost by level modules in the darkest month against raised ones.",
    covers=("Modules that lie flat where the winter sun is low",),
    level="note",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="In winter the sun stays low, and its light strikes a level module at a flat "
    "angle, spread over a large area. Raised towards the noon sun the same module gets twice as "
    "much on a clear day, and snow slides off. Under clouds the light comes from all of the sky "
    "and raising gains little, so that the figure is that of clear days.",
    fine="In a vehicle or on a deck, where nothing can be raised, or where nothing is used in "
    "winter.",
    since="0.1.0",
    sound=plan("van-refrigerator", Edit("site: {", "site: {latitude: 47°, "), more=MORE),
    faulty=Edit("tilt: 60°, facing: south", "tilt: 0°"),
    options=Limits,
)
def flat_winter_loss(study: Study, limits: Limits) -> Iterator[Observation]:
    short = [lying for lying in study.energy.lying if exceeds(lying.loss, limits.lost)]
    for loss in dict.fromkeys(lying.loss.number for lying in short):
        yield _observation([each for each in short if each.loss.number == loss], limits)


def _observation(alike: list[Lying], limits: Limits) -> Observation:
    """Strings that lie alike and lose the same."""
    first = alike[0]
    names = quoted(each.string.name for each in alike)
    loses = "loses" if len(alike) == 1 else "each lose"
    tilt = f"{first.best:g}°"
    raised = [
        change
        for lying in alike
        for change in (
            Change(lying.string.name, "tilt", tilt),
            Change(lying.string.name, "facing", first.noon),
        )
    ]
    return Observation(
        message=f"level in {first.month}, {names} {loses} {first.loss} of a clear day's sun "
        "against the best tilt",
        on=tuple(lying.string for lying in alike),
        values=(first.loss,),
        margin=margin_below(first.loss, limits.lost),
        remedy=Remedy(
            f"raise the modules by about {tilt} towards the noon sun when parked, in the "
            f"{first.noon}, or carry a module that can be raised; accept it where winter is spent "
            "elsewhere",
            (tuple(raised),),
        ),
    )
