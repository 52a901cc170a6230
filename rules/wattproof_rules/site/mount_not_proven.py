"""The pull of the wind at road speed on modules that only glue holds to a roof."""

from __future__ import annotations

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
from wattproof.working import Value, tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "a module on a vehicle's roof is held by bolts or by bolts and glue, so that it stays on "
        "when the glue ages; its pull is reckoned at road speed with a safety of three"
    ),
}

AIR = 1.2  # kg/m³
LIFT = 1.5  # pressure coefficient of a flat plate that the wind gets under
SAFETY = 3.0


@record
class Limits:
    """What a project may set."""

    speed: float = option(130.0, "Road speed with headwind, in km/h.")


@rule(
    id="mount-not-proven",
    summary="Pull of the wind on roof modules that are held by glue alone.",
    covers=("A module that comes off at road speed",),
    level="warning",
    hazard="injury",
    part="module",
    basis=BASIS,
    explanation="Air that gets under the front edge of a module lifts it, and the pull grows with "
    "the square of the speed: twice as fast, four times the pull. Glue can hold that, but only on "
    "a clean, sound surface; paint and gel coat come off together with it, and heat, frost and "
    "washing age it unseen. A few bolts or rivets hold when the glue no longer does.",
    caution=warning(
        "A module that comes off at road speed can kill those who drive behind; this has happened."
    ),
    fine="Where the maker of the module and that of the glue state together that this pair holds "
    "on this very surface, and someone looks at it each year.",
    settings=("vehicle",),
    elsewhere="only what drives has such a wind over its modules, and traffic behind it",
    since="0.1.0",
    sound=plan(
        "van",
        Edit("rigid-100: {", "rigid-100: {area: 0.55 m², "),
        Edit("mounting: roof-gap", "mounting: roof-gap, fixing: bolted-and-bonded"),
    ),
    faulty=Edit("fixing: bolted-and-bonded", "fixing: bonded"),
    options=Limits,
)
def mount_not_proven(study: Study, limits: Limits) -> Iterator[Observation]:
    for string in study.plan.strings.values():
        if string.fixing != "bonded" or string.mounting in ("open-rack", "ground"):
            continue
        for name in dict.fromkeys(string.modules or (string.module,)):
            module = study.array.modules.get(name or "")
            if module is None:
                continue
            sheet = module.sheet
            pull = _pull(study.array.area_of(module.name), limits.speed)
            yield Observation(
                message=f"only glue holds `{string.name}`, and at {limits.speed:g} km/h the wind "
                f"pulls at each `{name}` with up to {pull}",
                on=(string, sheet),
                values=(pull,),
                remedy=Remedy(
                    f"add bolts or rivets that hold {SAFETY * pull.number:.0f} N for each module, "
                    "three times the pull, and a tether; then write `fixing: bolted-and-bonded`",
                    ((Change(string.name, "fixing", "bolted-and-bonded"),),),
                ),
                level="note" if string.mounting == "roof-bonded" else None,
            )


def _pull(area: Value, speed: float) -> Value:
    """Pull of the wind (N): half the density of air, speed squared, coefficient, area."""
    density = tabled(AIR, "kg/m³", "ρ", "density of air", "at 20 °C and sea level")
    lift = tabled(LIFT, "", "Cp", "pressure coefficient", "common practice for edges of flat roofs")
    fast = tabled(speed / 3.6, "m/s", "v", "road speed with headwind", "common practice")
    pressure = (0.5 * density * fast * fast).named("q", "dynamic pressure of the wind", "Pa")
    return (pressure * lift * area).named("F", "pull of the wind on a module", "N")
