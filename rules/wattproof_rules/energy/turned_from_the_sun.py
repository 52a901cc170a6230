"""Raised modules that look away from the noon sun."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "fixed modules look to the noon sun: to the south in the north of the world, to the north "
        "in the south; a quarter turn to the east or west costs little at a low tilt"
    ),
}

MORE = """\
strings:
  roof-string: {module: rigid-100, series: 2, mounting: open-rack,
                tilt: 40°, facing: south}
"""


@record
class Limits:
    """What a project may set."""

    lost: float = option(0.30, "Share of clear days' sun that looking elsewhere may cost.")


@rule(
    id="turned-from-the-sun",
    summary="Sun lost by raised modules that do not look to the noon sun.",
    covers=("Modules that look away from the sun",),
    level="note",
    hazard="lost-energy",
    part="energy",
    basis=BASIS,
    explanation="Raised modules gain by looking to where the sun stands at noon: in the north of "
    "the world to the south, in the south to the north. A plan that was copied from the other half "
    "of the world, or a latitude without its minus, turns them away, and they then see little but "
    "the light of the sky, worst in winter.",
    fine="Where the roof has no other side, or where a mast or a tree shades the sunny one.",
    since="0.4.0",
    sound=plan(
        "van-refrigerator",
        Edit("site: {", "site: {latitude: 47°, "),
        Edit("{winter: 1.5 h, summer: 5 h}", "{winter: 0.9 h, summer: 4 h}"),
        Edit("{winter: 3 h, summer: 8 h}", "{winter: 1 h, summer: 6 h}"),
        more=MORE,
    ),
    faulty=Edit("facing: south", "facing: north"),
    options=Limits,
)
def turned_from_the_sun(study: Study, limits: Limits) -> Iterator[Observation]:
    for away in study.energy.turned_away:
        if not exceeds(away.loss, limits.lost):
            continue
        string = away.string
        yield Observation(
            message=f"`{string.name}` faces {string.facing} and loses {away.loss} of the sun of "
            f"clear days against facing {away.noon}, where the noon sun stands",
            on=(string,),
            values=(away.loss,),
            margin=margin_below(away.loss, limits.lost),
            remedy=Remedy(
                f"turn it to the {away.noon}; or look at the sign of `latitude`, minus in the "
                "south; or lay it level",
                ((Change(string.name, "facing", away.noon),),),
            ),
        )
