"""Power on a label against the sun that falls on a module of its size."""

from __future__ import annotations

from collections.abc import Iterator

from wattproof.rule import Edit, Observation, practice, rule
from wattproof.study import Study
from wattproof.study.limits import exceeds, margin_below
from wattproof.working import declared, tabled
from wattproof_rules.plans import plan

BASIS = {
    "common practice": practice(
        "at standard test conditions 1000 W fall on each square metre; the best modules sold give "
        "a quarter of it, their frame included, and usual ones 170 to 230 W"
    ),
}

MOST = 250.0
"""Power of a module for each square metre that none is over (W/m²)."""
LEAST = {"crystalline": 60.0, "thin-film": 25.0}
"""The same that none of a technology is under: beyond it the area is in another unit."""


@rule(
    id="module-power-per-area-odd",
    summary="Power on a label for each square metre of the module, against what cells can give.",
    covers=("Modules sold with more watts than their size can give",),
    level="warning",
    hazard="lost-energy",
    part="module",
    basis=BASIS,
    explanation="The sun brings no more than some 1000 W to a square metre, and no module on sale "
    "makes more than a quarter of it into electricity. A label that promises more for its size is "
    "made up, or the size is that of something else. Such modules are sold most often as folding "
    "ones and in kits. The battery that was to be filled by them stays empty, and wires and fuses "
    "that follow the label are of a size that nothing asks for.",
    fine="Where the area that is written is that of the cells alone: write that of the module.",
    since="0.5.0",
    sound=plan("van", Edit("pmax: 100 W,", "pmax: 100 W, area: 0.5 m²,")),
    faulty=Edit("area: 0.5 m²", "area: 0.3 m²"),
)
def module_power_per_area_odd(study: Study) -> Iterator[Observation]:
    for module in study.array.modules.values():
        if module.sheet.area is None:
            continue
        area = declared(module.sheet.area, f"A({module.name})", f"area of {module.name}")
        dense = (module.pmax / area).named("P/A", f"power of {module.name} by its area", "W/m²")
        most = tabled(MOST, "W/m²", "P/Amax", "most that a module gives", "common practice")
        on = (*study.array.users_of(module), module.sheet)
        if exceeds(dense, most):
            yield Observation(
                message=f"the label of `{module.name}` promises {module.pmax} from {area}, which "
                f"is {dense}; no module gives more than {most}",
                on=on,
                values=(dense, most),
                margin=margin_below(dense, most),
                remedy=f"measure the module with its frame; if it is so small, count on "
                f"{(most * area).named('P', 'most of it', 'W')} at most, and read its current in "
                "full sun",
            )
        elif dense.number < LEAST.get(str(module.sheet.technology), 0.0):
            yield Observation(
                message=f"the label of `{module.name}` promises {module.pmax} from {area}, which "
                f"is {dense}; modules give 170 to 230 W/m²",
                on=on,
                values=(dense,),
                level="note",
                remedy="measure the module with its frame, and write its area with its unit",
            )
