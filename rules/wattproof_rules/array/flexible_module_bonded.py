"""Flexible modules glued flat to a skin, and the heat of their cells."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Change, Edit, Observation, Remedy, notice, practice, rule
from wattproof.study import Study
from wattproof.study.array.strings import StringStudy
from wattproof.study.limits import exceeds
from wattproof.working import Value, total
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "flexible modules are laid on a spacer that lets air under them and can be renewed, not "
        "glued flat to a roof that moves and heats them"
    ),
}


@rule(
    id="flexible-module-bonded",
    summary="Cells of flexible modules that are glued flat to a skin, against those over a gap.",
    covers=("Flexible modules that cook on a roof",),
    level="note",
    hazard="lost-energy",
    part="module",
    basis=BASIS,
    explanation="A module turns most of the light into heat, and gets rid of it by the air at its "
    "back. Glued to a roof it has none, and every degree costs it power. The thin cells bend with "
    "the roof, crack, and make hot spots that no glass holds back; the plastic over them clouds "
    "and scorches. Glued on, a module that has failed does not come off in one piece.",
    caution=notice("Hot spots in a cracked flexible module can scorch through it and the roof."),
    fine="Where the makers of module and skin allow the glue, the loss is reckoned with, and you "
    "accept that the module cannot be taken off whole.",
    since="0.1.0",
    sound=plan(
        "van",
        Edit(
            "max_system_voltage: 600 V",
            "max_system_voltage: 600 V,\n                build: flexible, bypass_diodes: 2",
        ),
    ),
    faulty=Edit("mounting: roof-gap", "mounting: roof-bonded"),
)
def flexible_module_bonded(study: Study) -> Iterator[Observation]:
    strings = {s.source.string.name: s for array in study.array.arrays for s in array.all_strings}
    for string in strings.values():
        soft = any(module.sheet.build == "flexible" for module in string.modules)
        if soft and string.source.string.mounting == "roof-bonded":
            spaced = study.site.climate.hot_cells("roof-gap")
            if exceeds(string.cells("hottest"), spaced):  # not where they are told to stay cool
                yield _glued(string, spaced)


def _glued(string: StringStudy, spaced: Value) -> Observation:
    declared = string.source.string
    glued = string.cells("hottest")
    hotter = (glued - spaced).named("ΔTglue", "how much hotter than with a gap", "K")
    volts = string.vmp("hottest")
    better = total([module.vmp_at(spaced) for module in string.modules])
    better = better.named(f"Vmpgap({string.name})", f"hot voltage of {string.name} over a gap", "V")
    return Observation(
        message=f"the flexible modules of `{declared.name}` are glued to a skin: their cells reach "
        f"{glued}, {hotter} more than over a gap, and give {volts} instead of {better}",
        on=(declared,),
        values=(glued, hotter, volts, better),
        remedy=Remedy(
            "lay them on a spacer or a twin-wall sheet that lets air under them, and write "
            "`mounting: roof-gap`",
            ((Change(declared.name, "mounting", "roof-gap"),),),
        ),
    )
