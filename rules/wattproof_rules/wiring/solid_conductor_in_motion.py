"""Solid conductors where everything shakes."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Clause, Edit, Observation, Remedy, practice, rule, warning
from wattproof.study import Study
from wattproof.study.wiring.wires import WireStudy
from wattproof.working import declared
from wattproof_rules.plans import plan

BASIS = {
    "abyc-e11": Clause(
        "ABYC E-11.14",
        "2022",
        "conductors on boats are stranded, with at least 7 strands and from some sizes on with "
        "more",
        verified=False,
    ),
    "iso-13297": Clause(
        "ISO 13297",
        "2020",
        "conductors on small craft are stranded copper",
        verified=False,
    ),
    "nec-2023": Clause(
        "NEC 551.48, 552.48 (trailers), as good practice",
        "2023",
        "low-voltage conductors in vehicles are stranded copper",
        verified=False,
    ),
    "common practice": practice("in what moves, conductors are of many strands"),
}


@rule(
    id="solid-conductor-in-motion",
    summary="Solid conductors in a vehicle, a boat, or a set that is carried about.",
    covers=("Solid wire where it shakes",),
    level="warning",
    hazard="fire",
    part="conductor",
    basis=BASIS,
    explanation="A wire of one piece bends at the same spot with every bump of the road or the "
    "sea, and copper that is bent often enough becomes hard and breaks, like a paper clip. Before "
    "it parts, the last bit of it carries all the current and glows inside its insulation. It also "
    "works its way out from under screws. Many fine strands bend without tiring.",
    caution=warning(
        "A conductor that is broken inside its insulation arcs and can set it on fire."
    ),
    fine="In a building, or inside a device whose maker built it so. Never where it is shaken.",
    settings=("vehicle", "boat", "portable"),
    elsewhere="nothing shakes the cables of a building",
    since="0.1.0",
    sound=plan("van", Edit("material: copper,", "material: copper, strands: fine,\n            ")),
    faulty=Edit("strands: fine", "strands: solid"),
)
def solid_conductor_in_motion(study: Study) -> Iterator[Observation]:
    setting = study.plan.setting
    for wire in study.wiring.wires.values():
        if wire.sheet.strands == "solid":
            yield _solid(wire, boat=setting == "boat", setting=str(setting))


def _solid(wire: WireStudy, *, boat: bool, setting: str) -> Observation:
    where = "a set that is carried about" if setting == "portable" else f"a {setting}"
    size = declared(wire.sheet.size, f"A({wire.name})", f"size of each conductor of {wire.name}")
    return Observation(
        message=(
            f"`{wire.name}` ({wire.size.name}) is solid wire, in {where}: vibration breaks it"
        ),
        on=(wire, wire.sheet),
        values=(size,),
        remedy=Remedy(
            f"use cable of {wire.size.name} with fine strands for `{wire.name}`, and crimp its "
            "ends",
            ((Change(wire.name, "cable.strands", "fine"),),),
        ),
        level="error" if boat else None,
    )
