"""What a blocking diode costs, where the controller lets nothing back anyway."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, option, practice, record, rule
from wattproof.study import Study
from wattproof.study.array.arrays import ArrayStudy
from wattproof.study.array.strings import StringStudy
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import declared
from wattproof_rules.plans import plan

BASIS = {
    "iec": Clause(
        "IEC 62548, blocking diodes",
        "2016",
        "blocking diodes may be used against reverse current; they do not take the place of "
        "overcurrent protection",
        verified=False,
    ),
    "as-nzs-3001": Clause(
        "AS/NZS 5033, blocking diodes",
        "2021",
        "blocking diodes do not take the place of overcurrent protection",
        verified=False,
    ),
    "common practice": practice(
        "a controller that lets no current back needs no blocking diode before it; where strings "
        "endanger each other fuses are used, for a diode can fail shorted"
    ),
}


@record
class Limits:
    """What a project may set."""

    lost: float = option(0.02, "Share of a string's voltage that a blocking diode may take.")


@rule(
    id="blocking-diode-misused",
    summary="Voltage and heat lost in a blocking diode before a controller that blocks by itself.",
    covers=("Blocking diodes where they only cost",),
    level="warning",
    hazard="lost-energy",
    part="string",
    basis=BASIS,
    explanation="A diode lets current through one way only, and takes half a volt to a volt for "
    "it, all day. Of a string at 60 V that is little, of a single module at 18 V it is several per "
    "cent, and all of it becomes heat in the diode. A controller that lets no battery current back "
    "makes it needless. It is no fuse either: when it fails, it mostly fails shorted.",
    fine="Where its maker asks for it, with a diode of the right rating on something that cools "
    "it, and the loss does not matter to you.",
    since="0.1.0",
    sound=plan(
        "van",
        Edit("mounting: roof-gap", "mounting: roof-gap, blocking_diode: 0.9 V"),
        Edit("max_output_current: 30 A", "max_output_current: 25 A"),
    ),
    faulty=Edit("series: 3", "series: 2"),
    options=Limits,
)
def blocking_diode_misused(study: Study, limits: Limits) -> Iterator[Observation]:
    seen: set[str] = set()
    for array in study.array.arrays:
        controller = array.controller
        if not (controller.blocks_reverse or controller.kind == "mppt"):
            continue  # there it keeps the battery from the array at night
        if controller.blocks_reverse is False:
            continue
        for string in array.all_strings:
            if str(string.source.string.name) not in seen:
                seen.add(str(string.source.string.name))
                yield from _observed(string, array, limits)


def _observed(string: StringStudy, array: ArrayStudy, limits: Limits) -> Iterator[Observation]:
    named = string.source.string
    if named.blocking_diode is None or not string.vmp("standard").number:
        return
    drop = declared(named.blocking_diode, "Ud", f"drop of the blocking diode in {named.name}")
    share = (drop / string.vmp("standard")).named("lost", f"share of {named.name}'s voltage", "%")
    if not exceeds(share, limits.lost):
        return
    heat = (drop * string.isc("bright")).named("Pd", f"heat in the diode of {named.name}", "W")
    yield Observation(
        message=f"the blocking diode in `{named.name}` takes {drop} of "
        f"{string.vmp('standard')}, {share.number * 100.0:.1f} %, and turns up to {heat} into "
        f"heat; `{array.controller.name}` lets no battery current back without it",
        on=(named, array.controller),
        values=(share, heat),
        margin=margin_below(share, limits.lost),
        remedy=_remedy(array, str(named.name)),
    )


def _remedy(array: ArrayStudy, string: str) -> Remedy | str:
    if len(array.all_strings) == 1:
        words = "leave it out: nothing else is there to feed the string backwards"
        return Remedy(words, ((Change(string, "blocking_diode", ""),),))
    return "leave it out, and put a photovoltaic fuse into each string where one is needed"
